import { BugError } from '@gapwright/base';

/**
 * The characters a typeface has glyphs for, read from its `cmap` table (OpenType, segmented coverage, subtable format
 * 12: groups of first character, last character, first glyph).
 */
export function fontLetters(font: Uint8Array): (codePoint: number) => boolean {
  const bytes = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const groups = segmentedCoverage(bytes, tableOffset(bytes, 'cmap'));
  return (codePoint) => groups.some(([first, last]) => codePoint >= first && codePoint <= last);
}

/** Offset of a table by its four-letter tag; the directory starts at byte 12, 16 bytes an entry. */
function tableOffset(bytes: DataView, tag: string): number {
  const count = bytes.getUint16(4);
  for (let i = 0; i < count; i++) {
    const entry = 12 + 16 * i;
    let found = '';
    for (let k = 0; k < 4; k++) found += String.fromCharCode(bytes.getUint8(entry + k));
    if (found === tag) return bytes.getUint32(entry + 8);
  }
  throw new BugError(`the typeface has no ${tag} table`);
}

function segmentedCoverage(bytes: DataView, cmap: number): (readonly [number, number])[] {
  const count = bytes.getUint16(cmap + 2);
  for (let i = 0; i < count; i++) {
    const subtable = cmap + bytes.getUint32(cmap + 4 + 8 * i + 4);
    if (bytes.getUint16(subtable) !== 12) continue;
    const groups = bytes.getUint32(subtable + 12);
    return Array.from({ length: groups }, (_, k) => {
      const group = subtable + 16 + 12 * k;
      return [bytes.getUint32(group), bytes.getUint32(group + 4)] as const;
    });
  }
  throw new BugError('the typeface has no segmented coverage (cmap format 12)');
}
