import type { EnquiryFact, EnquiryField } from '../enquiry/enquiry-fact.js';
import { factsOf } from '../enquiry/read-enquiry.js';
import type { Question } from './sheet-answer.js';

type Hint = Pick<Question, 'suggestion' | 'choices'>;

/**
 * What an enquiry suggests for a question: one value is a suggestion, several are choices of which none is taken.
 * Nothing is filled in.
 */
export function hintFrom(facts: readonly EnquiryFact[], field: EnquiryField): Hint {
  const said = factsOf(facts, field);
  const [only] = said;
  if (only === undefined) return { suggestion: null, choices: [] };
  if (said.length === 1) return { suggestion: { value: only.value, says: where(only) }, choices: [] };
  return { suggestion: null, choices: said.map((f) => ({ value: String(f.value), says: where(f) })) };
}

function where({ says, text, start }: EnquiryFact): string {
  return `${says}: the enquiry says “${text.replaceAll(/\s+/g, ' ').trim()}” (letter ${start + 1})`;
}
