export { JobSheet } from './job-sheet.js';
