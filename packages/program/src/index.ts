export * from './arc-motion.js';
export type { Motion, TextPlace } from './motion.js';
export type { NumberFormat } from './number-format.js';
export { parsePost } from './parse-post.js';
export { type PostDefinition, postSchema } from './post-definition.js';
export { readProgram } from './read-program.js';
export type { OffsetRegister, ProgramStep, Side } from './step.js';
export { writeMotions } from './write-motions.js';
export { firstDifference, type ProgramHead, type WrittenProgram, writeProgram } from './write-program.js';
