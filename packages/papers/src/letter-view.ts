import { type DrawingSvg, drawingSvg } from './drawing/drawing-svg.js';
import { dateText, type Fact, type HeadView, headView, lengthTextOf, partFacts } from './head-view.js';
import type { LetterChange, LetterData, LetterPlace } from './letter-data.js';
import { fixed, percentChange } from './number-text.js';

/** The letter in words, ready to be set or sent. */
export interface LetterView {
  readonly head: HeadView;
  readonly customer: readonly string[];
  readonly facts: readonly Fact[];
  readonly greeting: string;
  readonly opening: readonly string[];
  readonly price: readonly Fact[];
  readonly part: readonly Fact[];
  readonly drawing: (DrawingSvg & { readonly alt: string }) | null;
  readonly places: readonly LetterPlace[];
  readonly changes: readonly ChangeView[];
  readonly closing: string;
  readonly signed: readonly string[];
  readonly reply: {
    readonly asks: string;
    /** What tells the sheet apart when it comes back alone. */
    readonly about: readonly Fact[];
    readonly priceHead: string;
  };
}

export interface ChangeView {
  /** `A`, `B` …: how the reply form names it. */
  readonly letter: string;
  readonly title: string;
  readonly says: string;
  readonly where: string;
  readonly check: string;
  /** `−61.10 EUR (−7 %)` per part. */
  readonly saving: string;
  /** `851.70 EUR per part`, with the quantity where it differs. */
  readonly price: string;
  readonly total: string;
  /** The price alone, for the reply form. */
  readonly amount: string;
}

const MONEY_DECIMALS = 2;
const CENTS = 100;

/** Size of the part's picture in the letter, mm on paper. */
const PICTURE = { widthMm: 80, maxHeightMm: 58, isPlain: true, isUnnamed: true };

export function letterView(data: LetterData): LetterView {
  const text = lengthTextOf(data);
  const { customer, part, currency, quantity } = data;
  const valid = dateText(data.validUntil);
  const contact = customer.contact === undefined ? [] : [customer.contact];
  return {
    head: headView('Price and what lowers it', data),
    customer: [customer.name, ...contact, ...(customer.lines ?? [])],
    facts: [
      { label: 'Enquiry', value: data.jobNumber },
      { label: 'Date', value: dateText(data.date) },
      { label: 'Valid until', value: valid },
    ],
    greeting: greetingOf(customer.contact),
    opening: openingOf(data),
    price: [
      { label: 'Price per piece as asked for', value: money(data.unitPrice, currency) },
      { label: 'Quantity', value: fixed(quantity, 0) },
      { label: 'Total', value: money(data.unitPrice * quantity, currency) },
    ],
    part: partFacts(part, text),
    drawing:
      data.drawing === undefined
        ? null
        : { ...drawingSvg(data.drawing, text, PICTURE), alt: altOf(data.places, part.name) },
    places: data.places,
    changes: data.changes.map((change, i) => changeView(change, i, data)),
    closing: `All prices hold until ${valid}, without tax and freight, for the drawing named above.`,
    signed: ['With kind regards', data.shop.name, ...data.shop.lines],
    reply: {
      asks: 'Please tick what you can accept and send this form back; we then plan and prove the part anew and confirm its price.',
      about: [
        { label: 'Enquiry', value: data.jobNumber },
        { label: 'Part', value: part.name },
        { label: 'Customer', value: customer.name },
      ],
      priceHead: `Price per piece, ${currency}`,
    },
  };
}

/** Department and the like follow a name after a comma. */
function greetingOf(contact: string | undefined): string {
  const name = contact?.split(',')[0]?.trim() ?? '';
  return name === '' ? 'Good day,' : `Dear ${name},`;
}

function openingOf({ jobNumber, part, changes }: LetterData): string[] {
  const drawing = part.drawingFile === undefined ? '' : `, drawing ${part.drawingFile}`;
  const revision = part.revision === undefined ? '' : `, revision ${part.revision}`;
  const subject = `Thank you for your enquiry ${jobNumber} about ${part.name}${drawing}${revision}.`;
  if (changes.length === 1) {
    return [
      subject,
      'We can make the part as drawn at the price below. One change would lower it; it is yours to judge.',
    ];
  }
  return [
    subject,
    'We can make the part as drawn at the price below. The changes that follow would lower it; each is yours to judge. ' +
      'Each is priced by itself against the price as asked for: together they do not simply add up.',
  ];
}

function changeView(change: LetterChange, index: number, data: LetterData): ChangeView {
  const { currency } = data;
  const quantity = change.quantity ?? data.quantity;
  // Taken between the printed prices, so that the customer's own subtraction agrees to the cent.
  const saving = (cents(data.unitPrice) - cents(change.unitPrice)) / CENTS;
  return {
    letter: letterOf(index),
    title: change.title,
    says: `${change.says} ${change.because}`,
    where: change.places.length === 0 ? '' : `Where: ${listed(change.places)}.`,
    check: change.check,
    saving: `${money(-saving, currency)} (${percentChange(-saving / data.unitPrice)})`,
    price: `${money(change.unitPrice, currency)} per piece`,
    amount: `${fixed(change.unitPrice, MONEY_DECIMALS)}${quantity === data.quantity ? '' : ` at ${fixed(quantity, 0)}`}`,
    total: `${money(change.unitPrice * quantity, currency)} for ${fixed(quantity, 0)}`,
  };
}

const cents = (value: number): number => Math.round(value * CENTS);
const money = (value: number, currency: string): string => `${fixed(value, MONEY_DECIMALS)} ${currency}`;

/** `A` to `Z`, then `A2` …: more changes than letters are unlikely, and still told apart. */
function letterOf(index: number): string {
  const round = Math.floor(index / 26);
  return `${String.fromCharCode(65 + (index % 26))}${round === 0 ? '' : round + 1}`;
}

/** `(1), (2) and (3)`. */
function listed(labels: readonly string[]): string {
  if (labels.length < 2) return labels.join('');
  return `${labels.slice(0, -1).join(', ')} and ${labels[labels.length - 1]}`;
}

function altOf(places: readonly LetterPlace[], part: string): string {
  const marked = places.map((p) => `${p.label} ${p.says}`).join('; ');
  return marked === '' ? `Drawing of ${part}` : `Drawing of ${part} with marked places: ${marked}`;
}
