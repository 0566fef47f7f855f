import type { Place, Problem } from '@gapwright/base';
import { placeText } from '@gapwright/base';
import { type LengthText, lengthText } from './length-text.js';
import type { PaperHead, PaperPart } from './paper-head.js';

/** A label with its value, as the fact tables print them. */
export interface Fact {
  readonly label: string;
  readonly value: string;
}

/** Head and foot of every page, in words. */
export interface HeadView {
  readonly title: string;
  readonly shop: string;
  readonly shopLines: readonly string[];
  readonly jobNumber: string;
  readonly date: string;
  readonly invented: boolean;
  /** A second mark in the head of every page; empty when there is none. */
  readonly warning: string;
  readonly standing: string;
  readonly book: string;
}

export function headView(title: string, head: PaperHead, warning = ''): HeadView {
  return {
    title,
    shop: head.shop.name,
    shopLines: head.shop.lines,
    jobNumber: head.jobNumber,
    date: dateText(head.date),
    invented: head.invented,
    warning,
    standing: head.standing,
    book: head.bookVersion === undefined ? '' : `Shop book ${head.bookVersion}`,
  };
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** `2026-11-25` as `25 November 2026`, which no country reads wrongly; anything else is printed as it is. */
export function dateText(iso: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso);
  const month = MONTHS[Number(match?.[2]) - 1];
  return match === null || month === undefined ? iso : `${Number(match[3])} ${month} ${match[1]}`;
}

/** The part's facts in the order a planner asks for them; what is not known is left out. */
export function partFacts(part: PaperPart, text: LengthText): Fact[] {
  const facts: Fact[] = [{ label: 'Part', value: part.name }];
  if (part.drawingFile !== undefined) {
    const revision = part.revision === undefined ? '' : `, revision ${part.revision}`;
    facts.push({ label: 'Drawing', value: `${part.drawingFile}${revision}` });
  }
  facts.push(
    { label: 'Material', value: part.material },
    { label: 'Height', value: text.sizeWithUnit(part.heightMm) },
    { label: 'Profile tolerance', value: `±${text.sizeWithUnit(part.toleranceMm)}` },
    { label: 'Surface', value: `Ra ${text.ra(part.raUm)}` },
  );
  if (part.recastMaxUm !== undefined)
    facts.push({ label: 'Recast layer', value: `at most ${text.ra(part.recastMaxUm)}` });
  if (part.agreedCornerRadiusMm !== undefined) {
    facts.push({ label: 'Inside corners', value: `may keep R ${text.sizeWithUnit(part.agreedCornerRadiusMm)}` });
  }
  return facts;
}

/** A problem as a line: a word for how much it matters, the sentence, and the place. */
export interface ProblemView {
  readonly word: string;
  readonly isUrgent: boolean;
  readonly says: string;
  readonly place: string;
  readonly code: string;
}

const WORDS = { stop: 'Stops the plan', warn: 'Look at this', info: 'Worth knowing' } as const;

/** The place with coordinates in the unit of the paper. */
function placeOnPaper(at: Place | null, text: LengthText): string {
  if (at === null) return '';
  const { xMm, yMm, ...rest } = at;
  const point = xMm === undefined || yMm === undefined ? '' : `(${text.exact(xMm)}, ${text.exact(yMm)})`;
  return [placeText(rest), point].filter((part) => part !== '').join(', ');
}

/** Most urgent first, otherwise in the given order. Codes mean something to the shop only. */
export function problemViews(problems: readonly Problem[], text: LengthText, withCodes = true): ProblemView[] {
  const order = ['stop', 'warn', 'info'] as const;
  return order.flatMap((severity) =>
    problems
      .filter((p) => p.severity === severity)
      .map((p) => ({
        word: WORDS[severity],
        isUrgent: severity !== 'info',
        says: p.message,
        place: placeOnPaper(p.at, text),
        code: withCodes ? p.code : '',
      })),
  );
}

export const lengthTextOf = (head: PaperHead): LengthText => lengthText(head.lengthUnit);
