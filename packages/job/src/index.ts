export * from './job-file.js';
export * from './why.js';
