export { Button } from './button.js';
export { Choice } from './choice.js';
export { SheetDialog } from './dialog.js';
export { download, downloadJson } from './download.js';
export { LengthEntry, NumberEntry, TextEntry } from './entries.js';
export { Mark } from './mark.js';
export { ProblemLine } from './problem-line.js';
export { TypedEntry } from './text-entry.js';
