import type { LetterData } from './letter-data.js';
import { type ChangeView, type LetterView, letterView } from './letter-view.js';
import { plainText, requireFinite } from './printable.js';

/** Columns of a plain-text letter: what mail programs show without breaking lines. */
const WIDTH = 72;

/**
 * The letter as plain text for an e-mail, with the same words and numbers as the paper. Lines end in `\n`; control
 * characters and direction overrides of users' texts are taken out. Throws a BugError on numbers that are not finite.
 */
export function letterText(data: LetterData): string {
  requireFinite(data);
  const view = plainText(letterView(data)) as LetterView;
  const { head } = view;
  const blocks: string[][] = [
    head.invented ? ['INVENTED DEMO DATA'] : [],
    view.customer.flatMap((line) => wrapped(line)),
    view.facts.map(({ label, value }) => `${label}: ${value}`),
    [head.title, '='.repeat([...head.title].length)],
    wrapped(view.greeting),
    ...view.opening.map((paragraph) => wrapped(paragraph)),
    [...view.part, ...view.price].flatMap(({ label, value }) => wrapped(`${label}: ${value}`, '  ')),
    ...view.changes.map(changeLines),
    view.places.length === 0
      ? []
      : [
          'Marked in the picture of the letter:',
          ...view.places.flatMap((p) => wrapped(`${p.label} ${p.says}`, '    ')),
        ],
    wrapped(view.closing),
    view.signed.flatMap((line) => wrapped(line)),
    ['Your answer', '-----------'],
    [...wrapped(view.reply.asks), ...view.reply.about.map(({ label, value }) => `${label}: ${value}`)],
    view.changes.flatMap(answerLines),
    ['Name: ____________________________   Date: ______________'],
    ['-'.repeat(WIDTH), ...wrapped(`${head.standing} ${head.book}`.trim())],
  ];
  return `${blocks
    .filter((block) => block.length > 0)
    .map((block) => block.join('\n'))
    .join('\n\n')}\n`;
}

function changeLines({ letter, title, says, where, check, saving, price, total }: ChangeView): string[] {
  const indented = [`${price}, ${saving}; ${total}.`, says, where, `Please check ${check}`];
  return [
    ...wrapped(`${letter}. ${title}`, '   '),
    ...indented.filter((text) => text !== '').flatMap((text) => wrapped(text, '   ', '   ')),
  ];
}

function answerLines({ letter, title, price }: ChangeView): string[] {
  return [
    ...wrapped(`${letter}. ${title}, ${price}`, '   '),
    '   [ ] accepted   [ ] not accepted   [ ] please call us',
  ];
}

/** Blanks at which a line must not end: between a number and its unit, a sign and its number. */
const HELD = /(?<=\d) (?=(?:mm|µm|in|µin|%|[A-Z]{3})\b)|(?<=\bRa?) (?=\d)/g;
const HOLD = '\u00a0';

/** A paragraph in lines of at most {@link WIDTH} columns; words longer than that stay whole, to be copied. */
function wrapped(text: string, indent = '', first = ''): string[] {
  const lines: string[] = [];
  let line = first;
  let isEmpty = true;
  for (const word of text.replace(HELD, HOLD).split(' ')) {
    if (word === '') continue;
    const longer = isEmpty ? `${line}${word}` : `${line} ${word}`;
    if (!isEmpty && [...longer].length > WIDTH) {
      lines.push(line);
      line = `${indent}${word}`;
    } else {
      line = longer;
    }
    isEmpty = false;
  }
  if (!isEmpty) lines.push(line);
  return lines.map((l) => l.replaceAll(HOLD, ' '));
}
