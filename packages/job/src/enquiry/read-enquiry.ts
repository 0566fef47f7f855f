import type { ShopBook } from '@gapwright/process';
import type { EnquiryFact, EnquiryField, Found } from './enquiry-fact.js';
import { readDays } from './read-days.js';
import { readMaterials } from './read-materials.js';
import { readHeight, readQuantity, readSurface, readTolerance } from './read-numbers.js';
import { readPeople } from './read-people.js';

/** Text beyond this is not read: an enquiry is a letter, not a book. */
const MOST_LETTERS = 20_000;

/**
 * Reads what a pasted enquiry says of a job. Nothing is decided: every fact names its words and their place, and two
 * facts of one field with different values are both given. `today` (`YYYY-MM-DD`) gives the year to days written without one.
 */
export function readEnquiry(text: string, book: ShopBook, today?: string): EnquiryFact[] {
  const letter = text.slice(0, MOST_LETTERS);
  const found: Found[] = [
    ...readMaterials(letter, book),
    ...readQuantity(letter),
    ...readHeight(letter),
    ...readSurface(letter),
    ...readTolerance(letter),
    ...readDays(letter, today),
    ...readPeople(letter),
  ];
  const facts = found.map((f): EnquiryFact => ({ ...f, text: letter.slice(f.start, f.end) }));
  return onceEach(facts).sort((a, b) => a.start - b.start);
}

/** What is said twice in the same words at the same place, by two rules, is one fact. */
function onceEach(facts: readonly EnquiryFact[]): EnquiryFact[] {
  const out: EnquiryFact[] = [];
  for (const fact of facts) {
    const isKnown = out.some(
      (o) => o.field === fact.field && o.value === fact.value && o.start < fact.end && fact.start < o.end,
    );
    if (!isKnown) out.push(fact);
  }
  return out;
}

/** The different values an enquiry gives for a field, each with the fact that came first. */
export function factsOf(facts: readonly EnquiryFact[], field: EnquiryField): EnquiryFact[] {
  const byValue = new Map<string | number, EnquiryFact>();
  for (const fact of facts) if (fact.field === field && !byValue.has(fact.value)) byValue.set(fact.value, fact);
  return [...byValue.values()];
}
