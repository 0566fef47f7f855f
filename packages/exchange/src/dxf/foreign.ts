import { byteText } from './parse-number.js';
import { Refusal } from './refusal.js';

/** Refuses empty files and files that are plainly of another kind, with words that help to find the right one. */
export function refuseForeign(bytes: Uint8Array): void {
  const head = byteText(bytes, 0, Math.min(bytes.length, 8));
  if (bytes.length === 0) {
    throw new Refusal('DXF-EMPTY-FILE', 'The file is empty', 'Export or send the drawing again');
  }
  const kind = foreignKind(head);
  if (kind !== undefined) {
    throw new Refusal('DXF-NOT-A-DXF', `This is ${kind}, not a DXF file`, 'Save or export the drawing as DXF');
  }
}

function foreignKind(head: string): string | undefined {
  if (/^AC1\d\d\d/.test(head)) return 'a DWG drawing';
  if (head.startsWith('%PDF')) return 'a PDF document';
  if (head.startsWith('PK\u0003\u0004')) return 'a ZIP archive';
  if (head.startsWith('ISO-1030')) return 'a STEP file';
  if (head.startsWith('\u00ff\u00fe') || head.startsWith('\u00fe\u00ff')) return 'a text file in UTF-16';
  return undefined;
}
