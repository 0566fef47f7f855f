/** Section of an operation on the sheet. */
export const operationSectionId = (number: number): string => `operation-${number}`;
