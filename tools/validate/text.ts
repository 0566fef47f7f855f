/** A part of the page with its plots. */
export interface Section {
  readonly title: string;
  readonly text: string;
  readonly plots: readonly { readonly name: string; readonly svg: string }[];
}

export function number(value: number): string {
  return String(Number(value.toPrecision(3)));
}

export function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}

/** A Markdown table. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}
