import { given, STATED_FOR_JOB } from '@gapwright/base';
import { iso286ToleranceUm, raFromN, raFromVdi, VDI_CLASSES } from '@gapwright/process';
import { type Found, matchesOf, NUMBER, numberIn } from './enquiry-fact.js';

/** One inch is 25.4 mm by definition, so a microinch is 0.0254 µm. */
const MM_PER_INCH = 25.4;
const UM_PER_MICROINCH = 0.0254;
const UM_PER_MM = 1000;

const LENGTH_UNIT = String.raw`(?<unit>mm|cm|µm|μm|um|inch(?:es)?|in\b|″|")`;
const COUNT_WORD = String.raw`(?:pcs|pces|pc|pieces?|parts|off|nos|ea|each|Stück|Stueck|Stk|St\.|Teile)`;

/** Pieces, with the words trades use for them. */
export function* readQuantity(text: string): Generator<Found> {
  const patterns = [
    new RegExp(String.raw`(?<![\w.,])(?<n>\d{1,6})\s?(?:x\s?)?${COUNT_WORD}(?![\w])`, 'giu'),
    /(?<![\w.,])(?<n>\d{1,6})\s+sets?\b(?:\s+of\b)?/giu,
    /\b(?:qty|quantity|quantities|menge|anzahl|stückzahl)\b\s*[.:=]?\s*(?<n>\d{1,6})(?![\d.,]*\d|\s?mm)/giu,
    /(?<![\w.,])(?<!\d\s)[x×](?<n>\d{1,6})(?![\w.,]*\d|\s?mm)/giu,
  ];
  for (const pattern of patterns) {
    for (const { groups, start, end } of matchesOf(text, pattern)) {
      const n = numberIn(groups.n);
      if (n >= 1 && n <= 100_000) yield { field: 'quantity', value: n, says: `${n} pieces`, start, end };
    }
  }
}

/** Height of the work along the wire. */
export function* readHeight(text: string): Generator<Found> {
  const before = String.raw`(?:thick(?:ness)?|height|high|tall|Höhe|Hoehe|Dicke|Stärke)\s*(?:of|is|von)?\s*[:=]?\s*`;
  const after = String.raw`\s?(?:thick|high|tall|dick|hoch|stark)\b`;
  const patterns = [
    new RegExp(String.raw`(?<![\p{L}\d.,])${before}(?<n>${NUMBER})(?!\d)\s?${LENGTH_UNIT}?`, 'giu'),
    new RegExp(String.raw`(?<![\p{L}\d.,])(?<n>${NUMBER})\s?${LENGTH_UNIT}?${after}`, 'giu'),
    new RegExp(String.raw`(?<![\p{L}\d.,])[tTH](?:\s?=\s?|\s)(?<n>${NUMBER})(?![\p{L}\d])\s?${LENGTH_UNIT}?`, 'gu'),
  ];
  for (const pattern of patterns) {
    for (const { groups, start, end } of matchesOf(text, pattern)) {
      const mm = lengthMm(groups.n, groups.unit);
      if (mm > 0 && mm <= 1000) yield { field: 'heightMm', value: mm, says: `${mm} mm high`, start, end };
    }
  }
}

/** Surface as Ra, as an old grade (ISO 1302) or as a class of VDI 3400. */
export function* readSurface(text: string): Generator<Found> {
  const ra = new RegExp(
    String.raw`(?<![\p{L}\d])Ra\s*(?:max\.?)?\s*[:=<≤]*\s*(?<n>${NUMBER})(?!\d)\s?(?<unit>µm|μm|um|µin|μin|uin|microinch(?:es)?)?`,
    'gu',
  );
  for (const { groups, start, end } of matchesOf(text, ra)) {
    const isInch = /in/.test(groups.unit ?? '');
    const um = rounded(numberIn(groups.n) * (isInch ? UM_PER_MICROINCH : 1));
    if (um > 0 && um <= 50) {
      const rule = isInch ? ` (${groups.n} ${groups.unit} at 0.0254 µm)` : '';
      yield { field: 'raUm', value: um, says: `Ra ${um} µm${rule}`, start, end };
    }
  }
  for (const { groups, start, end } of matchesOf(
    text,
    /(?<![\p{L}\d.,-])(?<grade>N\s?(?:1[0-2]|[1-9]))(?![\p{L}\d])/gu,
  )) {
    const grade = groups.grade!.replace(/\s/g, '');
    const um = raFromN(grade).value?.value;
    if (um !== undefined) yield { field: 'raUm', value: um, says: `Ra ${um} µm (${grade}, ISO 1302)`, start, end };
  }
  const vdi = /(?<![\p{L}\d])VDI\s*(?:3400)?\s*(?:class|Klasse|ref\.?|no\.?|Nr\.?)?[\s:#–-]*(?<n>\d{1,2})(?![\d])/giu;
  for (const { groups, start, end } of matchesOf(text, vdi)) {
    const vdiClass = numberIn(groups.n);
    if (vdiClass < VDI_CLASSES[0] || vdiClass > VDI_CLASSES[1]) continue;
    const exact = raFromVdi(given(vdiClass, 'VDI', 'Class stated in the enquiry', STATED_FOR_JOB)).value;
    const um = Number(exact.toPrecision(2));
    yield { field: 'raUm', value: um, says: `Ra ${um} µm (class ${vdiClass}, VDI 3400)`, start, end };
  }
}

/** Tolerance, plus or minus; a standard tolerance (ISO 286) counts half to each side. */
export function* readTolerance(text: string): Generator<Found> {
  const plusMinus = new RegExp(
    String.raw`(?:±|\+\s?/?\s?[-−–]|\bplus\s?(?:/|or)?\s?minus\b)\s?(?<n>${NUMBER})(?!\d)\s?${LENGTH_UNIT}?`,
    'giu',
  );
  for (const { groups, start, end } of matchesOf(text, plusMinus)) {
    const mm = lengthMm(groups.n, groups.unit);
    if (mm > 0 && mm <= 5) yield { field: 'toleranceMm', value: mm, says: `±${mm} mm`, start, end };
  }
  const grade = new RegExp(
    String.raw`\bIT\s?(?<grade>\d{1,2})\b(?:\s*(?:on|at|for|auf|bei)?\s*(?:⌀|ø|dia\.?)?\s*(?<n>${NUMBER})(?!\d)\s?(?:mm)?)`,
    'giu',
  );
  for (const { groups, start, end } of matchesOf(text, grade)) {
    const size = numberIn(groups.n);
    const width = iso286ToleranceUm(size, `IT${groups.grade}`).value?.value;
    if (width === undefined) continue;
    const mm = rounded(width / UM_PER_MM / 2);
    const says = `±${mm} mm (half of IT${groups.grade} at ${size} mm, ISO 286)`;
    yield { field: 'toleranceMm', value: mm, says, start, end };
  }
}

function lengthMm(digits: string | undefined, unit: string | undefined): number {
  const value = numberIn(digits);
  switch (unit?.toLowerCase()) {
    case 'cm':
      return rounded(value * 10);
    case 'µm':
    case 'μm':
    case 'um':
      return rounded(value / UM_PER_MM);
    case undefined:
    case 'mm':
      return value;
    default:
      return rounded(value * MM_PER_INCH);
  }
}

/** Takes the rounding of binary fractions off a converted number. */
function rounded(value: number): number {
  return Number(value.toPrecision(9));
}
