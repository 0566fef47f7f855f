/** Display unit of lengths; everything inside is mm. */
export type LengthUnit = 'mm' | 'inch';

const MM_PER_INCH = 25.4;

/** A length for reading: 3 decimals of mm, or 4 of an inch (0.0001 in is 2.5 µm); `digits` overrides. */
export function lengthNumber(mm: number, unit: LengthUnit, digits = unit === 'mm' ? 3 : 4): string {
  const value = unit === 'mm' ? mm : mm / MM_PER_INCH;
  const text = value.toFixed(digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

export function lengthText(mm: number, unit: LengthUnit, digits?: number): string {
  return `${lengthNumber(mm, unit, digits)} ${unit === 'mm' ? 'mm' : 'in'}`;
}

/** What somebody typed as a length. A bare number is in the display unit; `in`, `"`, `mm`, `um`, `µm` override it. */
export function parseLength(text: string, unit: LengthUnit): { readonly mm: number } | { readonly fault: string } {
  const match = /^\s*([+-]?[\d.,\s]*\d[\d.,]*)\s*(mm|millimetres?|in|inch(?:es)?|"|um|µm|μm)?\s*$/i.exec(text);
  if (match === null)
    return { fault: `“${text.trim()}” is not a length. Write a number such as 12.5, with mm or in if you like.` };
  const number = parseNumber(match[1]!);
  if ('fault' in number) return number;
  const stated = match[2]?.toLowerCase();
  const factor =
    stated === undefined
      ? unit === 'mm'
        ? 1
        : MM_PER_INCH
      : stated.startsWith('mm') || stated.startsWith('mill')
        ? 1
        : stated.startsWith('in') || stated === '"'
          ? MM_PER_INCH
          : 0.001;
  return { mm: number.value * factor };
}

/** A typed number. A comma is a decimal comma unless it could as well part thousands; then we ask rather than guess. */
export function parseNumber(text: string): { readonly value: number } | { readonly fault: string } {
  const bare = text.replaceAll(/\s/g, '');
  const commas = bare.split(',').length - 1;
  if (commas > 1 || (commas === 1 && bare.includes('.')) || /^[+-]?[1-9]\d{0,2},\d{3}$/.test(bare)) {
    return {
      fault: `“${text.trim()}” can be read in two ways. Write the decimals with a point and no thousands marks.`,
    };
  }
  const value = Number(bare.replace(',', '.'));
  if (bare === '' || !Number.isFinite(value))
    return { fault: `“${text.trim()}” is not a number. Write one such as 12.5.` };
  return { value };
}
