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

/** Breaks text into lines of at most `width` characters; later lines start with `indent`. Leading spaces stay. */
export function wrap(text: string, width = 100, indent = ''): string {
  const lead = text.slice(0, text.length - text.trimStart().length);
  const lines: string[] = [];
  let current = lead;
  for (const word of text.trimStart().split(' ')) {
    const start = lines.length === 0 ? lead : indent;
    if (current !== start && current.length + 1 + word.length > width) {
      lines.push(current);
      current = indent + word;
    } else current += current === start ? word : ` ${word}`;
  }
  return [...lines, current].join('\n');
}
