import { chanceText, moneyText } from '../units/numbers.js';
import { dayWords } from './due.js';
import { inputsKey, type KnownAnswer } from './known-answer.js';
import { isSolidFile, type SlipJob } from './slip.js';

/** One short statement on a slip. `needs` asks for the planner, `proven` is settled, `plain` is a fact. */
export interface WaitWord {
  readonly tone: 'needs' | 'proven' | 'plain';
  readonly text: string;
}

/** Longest piece of a problem's sentence on a slip, letters; the sheet has the whole of it. */
const STOP_LETTERS = 90;

function shortened(sentence: string): string {
  if (sentence.length <= STOP_LETTERS) return sentence;
  const cut = sentence.slice(0, STOP_LETTERS);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), STOP_LETTERS / 2)).replace(/[,;:.]$/, '')} …`;
}

function planWords(job: SlipJob, known: KnownAnswer): readonly WaitWord[] {
  const { openQuestions, stop, stops, price, proof } = known;
  if (openQuestions > 0)
    return [{ tone: 'needs', text: openQuestions === 1 ? '1 question open' : `${openQuestions} questions open` }];
  if (stop !== null) {
    const more = stops > 1 ? ` (and ${stops - 1} more)` : '';
    return [{ tone: 'needs', text: `plan stops: ${shortened(stop)}${more}` }];
  }
  const words: WaitWord[] = [];
  if (price !== null) {
    words.push({
      tone: 'plain',
      text: `price ${moneyText(price.unitPrice, price.currency)} each at ${price.quantity}, ${chanceText(price.lossRisk)} to lose money`,
    });
    const tone = proof === 'proved' ? 'proven' : proof === 'fails the proof' ? 'needs' : 'plain';
    words.push({ tone, text: proof });
  }
  if (known.key !== null && known.key !== inputsKey(job.draft, job.drawing?.sha256 ?? null))
    words.push({ tone: 'plain', text: 'from before the last change' });
  return words;
}

/** What a job waits for, in words: open questions, what stops it, its price and risk, what was offered. */
export function waitWords(job: SlipJob, known: KnownAnswer | undefined, today: string): readonly WaitWord[] {
  const words: WaitWord[] = [];
  if (job.drawing === null) words.push({ tone: 'needs', text: 'no drawing yet' });
  else if (isSolidFile(job.drawing.fileName))
    return [
      { tone: 'plain', text: `${job.drawing.fileName} is kept with the enquiry; reading solids is not built yet` },
    ];
  const offer = job.offers.toSorted((a, b) => (a.madeAt < b.madeAt ? 1 : -1))[0];
  if (offer !== undefined) {
    const promised = offer.promisedDay === null ? '' : `, promised for ${dayWords(offer.promisedDay, today)}`;
    words.push({
      tone: 'plain',
      text: `offered ${moneyText(offer.unitPrice, offer.currency)} each on ${dayWords(offer.madeAt.slice(0, 10), today)}${promised}`,
    });
  }
  if (known !== undefined) words.push(...planWords(job, known));
  else if (job.drawing !== null) words.push({ tone: 'plain', text: 'not planned on this device yet' });
  return words;
}
