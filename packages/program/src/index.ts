export * from './motion.js';
export * from './step.js';
