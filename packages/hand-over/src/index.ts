export { isDay } from './day.js';
export { type HandOverFile, handOverFiles } from './hand-over-files.js';
export { type HandOver, makeHandOver } from './make-hand-over.js';
export { type MadePaper, makePaper, type PaperAsk } from './make-paper.js';
export { type Plain, type PlainSheet, plainSheet } from './plain-sheet.js';
