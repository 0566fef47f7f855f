import type { Material, ShopBook } from '@gapwright/process';
import { type Found, matchesOf } from './enquiry-fact.js';

/** Words that stand for many grades: taken only when no grade is named. */
const LOOSE_WORDS = new Set(['steel', 'carbide', 'copper', 'brass', 'graphite', 'tungsten', 'molybdenum']);
/** A grade that is nothing but digits needs one of these before it, or it may be any number. */
const GRADE_WORD = String.raw`(?:material|mat\.?|grade|steel|stainless|alloy|aluminium|aluminum|AISI|SAE|EN\s?AW|Werkstoff|Stahl)[\s:#-]*`;
/** Symbols this short are words in their own right, so case counts. */
const SHORT = 3;

/** Materials of the shop book by id, name or alias. A longer name wins over one inside it. */
export function* readMaterials(text: string, book: ShopBook): Generator<Found> {
  const found: (Found & { readonly isLoose: boolean })[] = [];
  for (const material of book.materials) {
    for (const name of new Set([material.id, material.name, ...material.aliases])) {
      for (const { start, end } of matchesOf(text, namePattern(name))) {
        const says = sameWords(name, material.id) ? material.name : `${material.name} (${name})`;
        found.push({ field: 'material', value: material.id, says, start, end, isLoose: isLoose(material, name) });
      }
    }
  }
  const named = found.some((f) => !f.isLoose) ? found.filter((f) => !f.isLoose) : found;
  for (const one of named) {
    const isInside = named.some(
      (f) => f.start <= one.start && f.end >= one.end && f.end - f.start > one.end - one.start,
    );
    if (!isInside) yield { field: one.field, value: one.value, says: one.says, start: one.start, end: one.end };
  }
}

function isLoose(_material: Material, name: string): boolean {
  return LOOSE_WORDS.has(name.toLowerCase());
}

function sameWords(a: string, b: string): boolean {
  return plain(a) === plain(b);
}

function plain(name: string): string {
  return name.toLowerCase().replace(/[\s._-]/g, '');
}

/** Separators of a name may be written as blanks, dots or hyphens or left out; the dot of a material number is a dot. */
function namePattern(name: string): RegExp {
  const body = (name.match(/\d+\.\d+|\d+|\p{L}+|[^\s._-]/gu) ?? [])
    .map((part) => part.replaceAll(/[.*+?^${}()|[\]\\/]/g, String.raw`\$&`))
    .join(String.raw`[\s._-]?`);
  const isNumber = /^\d+$/.test(name);
  const before = isNumber ? `(?<=${GRADE_WORD})` : String.raw`(?<![\p{L}\d.,-])`;
  const isShort = name.length < SHORT && !/\d/.test(name);
  // A single letter is a material only where the text says so.
  const place = name.length === 1 ? `(?<=${GRADE_WORD})` : before;
  return new RegExp(String.raw`${place}${body}(?![\p{L}\d])`, isShort ? 'gu' : 'giu');
}
