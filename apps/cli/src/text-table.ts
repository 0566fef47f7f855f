/** A plain text table: first column left, the others right unless `leftAligned` says otherwise. Two spaces between columns. */
export function textTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  leftAligned: readonly number[] = [0],
): string {
  const widths = head.map((h, c) => Math.max(h.length, ...rows.map((r) => (r[c] ?? '').length)));
  const lineOf = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (leftAligned.includes(c) ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join('  ')
      .trimEnd();
  return [lineOf(head), widths.map((w) => '-'.repeat(w)).join('  '), ...rows.map(lineOf)].join('\n');
}

/** Breaks text into lines of at most `width` characters, later lines indented. */
export function wrap(text: string, width = 100, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const limit = width - (lines.length === 0 ? 0 : indent.length);
    if (line !== '' && line.length + 1 + word.length > limit) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((l, i) => (i === 0 ? l : indent + l)).join('\n');
}
