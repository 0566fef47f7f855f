export { Button, type KitButtonProps } from './button.js';
export { Choice, type ChoiceOption, type ChoiceProps } from './choice.js';
export { SheetDialog, type SheetDialogProps } from './dialog.js';
export { download, downloadJson } from './download.js';
export { LengthEntry, NumberEntry, type NumberEntryProps, TextEntry } from './entries.js';
export { Mark, type MarkKind } from './mark.js';
export { ProblemLine } from './problem-line.js';
export { type EntryProps, TypedEntry } from './text-entry.js';
