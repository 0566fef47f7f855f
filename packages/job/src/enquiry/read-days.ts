import { type Found, matchesOf } from './enquiry-fact.js';

const MS_PER_DAY = 86_400_000;
const DAYS_PER_WEEK = 7;
/** Deliveries "in week 50" are due on its Friday, the fifth day of an ISO 8601 week. */
const FRIDAY = 5;

const MONTHS: readonly RegExp[] = [
  /^jan/i,
  /^feb/i,
  /^(mar|mär|mrz|maer)/i,
  /^apr/i,
  /^(may|mai)/i,
  /^jun/i,
  /^jul/i,
  /^aug/i,
  /^sep/i,
  /^(oct|okt)/i,
  /^nov/i,
  /^(dec|dez)/i,
];
const MONTH = String.raw`(?<month>Jan(?:uary|uar)?|Feb(?:ruary|ruar)?|Mar(?:ch)?|März?|Mrz|Apr(?:il)?|May|Mai|Jun[ei]?|Jul[yi]?|Aug(?:ust)?|Sept?(?:ember)?|Oct(?:ober)?|Okt(?:ober)?|Nov(?:ember)?|Dec(?:ember)?|Dez(?:ember)?)\.?`;
const YEAR = String.raw`(?<year>20\d\d)`;
/** Days that are not wanted days: of the letter, the drawing, a change. */
const OTHER_DAY = /(?:\bdate[d]?|\bdatum|\bvom|\bfrom|\bof|\brev\w*|\bdrawing|\bissued?|\bsent)[\s:.,]*$/i;

/**
 * Days a customer may want the parts by. `today` (`YYYY-MM-DD`) gives the year where the text has none: the next such day;
 * without it such days are left out. A day written as 5/6/2026 is read both ways.
 */
export function* readDays(text: string, today: string | undefined): Generator<Found> {
  for (const found of allDays(text, today)) {
    if (!OTHER_DAY.test(text.slice(Math.max(0, found.start - 24), found.start))) yield found;
  }
}

function* allDays(text: string, today: string | undefined): Generator<Found> {
  const give = (day: string | null, rule: string, start: number, end: number): Found[] =>
    day === null ? [] : [{ field: 'wantedDay', value: day, says: rule === '' ? day : `${day} (${rule})`, start, end }];

  for (const { groups, start, end } of matchesOf(
    text,
    /(?<![\d-])(?<year>20\d\d)-(?<month>\d\d)-(?<day>\d\d)(?![\d-])/gu,
  )) {
    yield* give(dayText(groups.year, groups.month, groups.day), '', start, end);
  }
  for (const { groups, start, end } of matchesOf(
    text,
    /(?<![\d.])(?<day>\d{1,2})\.\s?(?<month>\d{1,2})\.\s?(?<year>20\d\d)(?![\d.]\d)/gu,
  )) {
    yield* give(dayText(groups.year, groups.month, groups.day), '', start, end);
  }
  for (const { groups, start, end } of matchesOf(
    text,
    /(?<![\d/])(?<a>\d{1,2})\/(?<b>\d{1,2})\/(?<year>20\d\d)(?![\d/])/gu,
  )) {
    yield* give(dayText(groups.year, groups.b, groups.a), 'day first', start, end);
    if (groups.a !== groups.b) yield* give(dayText(groups.year, groups.a, groups.b), 'month first', start, end);
  }
  const named = [
    new RegExp(
      String.raw`(?<![\p{L}\d])(?<day>\d{1,2})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?${MONTH}(?![\p{L}])(?:,?\s+${YEAR})?`,
      'giu',
    ),
    new RegExp(
      String.raw`(?<![\p{L}\d])${MONTH}\s+(?<day>\d{1,2})(?:st|nd|rd|th)?(?![\p{L}\d.])(?:,?\s+${YEAR})?`,
      'giu',
    ),
  ];
  for (const pattern of named) {
    for (const { groups, start, end } of matchesOf(text, pattern)) {
      const month = String(MONTHS.findIndex((m) => m.test(groups.month ?? '')) + 1);
      if (groups.year !== undefined) yield* give(dayText(groups.year, month, groups.day), '', start, end);
      else yield* give(nextDay(month, groups.day, today), 'the next one', start, end);
    }
  }
  const week =
    /(?<![\p{L}\d])(?:(?<year>20\d\d)-W|(?:calendar\s+)?week\s?|wk\.?\s?|KW\s?|CW\s?)(?<week>\d{1,2})(?!\d)(?:\s?[/,]?\s?(?<after>20\d\d))?/giu;
  for (const { groups, start, end } of matchesOf(text, week)) {
    const number = Number(groups.week);
    const year = groups.year ?? groups.after;
    const rule = `Friday of week ${number}, ISO 8601`;
    if (year !== undefined) yield* give(fridayOf(Number(year), number), rule, start, end);
    else yield* give(nextWeek(number, today), rule, start, end);
  }
}

/** A day that exists, as `YYYY-MM-DD`. */
function dayText(year: string | undefined, month: string | undefined, day: string | undefined): string | null {
  const text = `${year}-${month?.padStart(2, '0')}-${day?.padStart(2, '0')}`;
  const at = new Date(`${text}T00:00:00Z`);
  return Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== text ? null : text;
}

function nextDay(month: string, day: string | undefined, today: string | undefined): string | null {
  if (today === undefined) return null;
  const year = Number(today.slice(0, 4));
  const thisYear = dayText(String(year), month, day);
  return thisYear !== null && thisYear >= today ? thisYear : dayText(String(year + 1), month, day);
}

function nextWeek(week: number, today: string | undefined): string | null {
  if (today === undefined) return null;
  const year = Number(today.slice(0, 4));
  const thisYear = fridayOf(year, week);
  return thisYear !== null && thisYear >= today ? thisYear : fridayOf(year + 1, week);
}

/** Friday of an ISO 8601 week: week 1 holds 4 January. Null for a week the year does not have. */
export function fridayOf(year: number, week: number): string | null {
  const fourth = Date.UTC(year, 0, 4);
  const weekday = new Date(fourth).getUTCDay() || DAYS_PER_WEEK;
  const monday = fourth - (weekday - 1) * MS_PER_DAY + (week - 1) * DAYS_PER_WEEK * MS_PER_DAY;
  // A week belongs to the year of its Thursday.
  const isOfYear = new Date(monday + 3 * MS_PER_DAY).getUTCFullYear() === year;
  if (week < 1 || !isOfYear) return null;
  return new Date(monday + (FRIDAY - 1) * MS_PER_DAY).toISOString().slice(0, 10);
}
