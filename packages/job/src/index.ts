export * from './job-file.js';
