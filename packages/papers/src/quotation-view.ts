import { type DrawingSvg, drawingSvg } from './drawing/drawing-svg.js';
import {
  dateText,
  type Fact,
  type HeadView,
  headView,
  lengthTextOf,
  type ProblemView,
  partFacts,
  problemViews,
} from './head-view.js';
import { fixed, percentChange, type SpreadText, spreadText } from './number-text.js';
import type { PriceDriver, QuotationData } from './quotation-data.js';

/** A quotation in words, ready to be set. */
export interface QuotationView {
  readonly head: HeadView;
  readonly customer: readonly string[];
  readonly facts: readonly Fact[];
  readonly validUntil: string;
  readonly currency: string;
  readonly part: readonly Fact[];
  readonly drawing: (DrawingSvg & { readonly alt: string }) | null;
  readonly prices: readonly { readonly quantity: string; readonly unit: string; readonly total: string }[];
  readonly delivery: string;
  readonly drivers: readonly { readonly says: string; readonly change: string }[];
  readonly assumptions: readonly string[];
  readonly problems: readonly ProblemView[];
  readonly asks: readonly string[];
  readonly terms: readonly string[];
  readonly internal: InternalView | null;
}

interface InternalView {
  readonly lines: readonly { readonly title: string; readonly cost: SpreadText }[];
  readonly byQuantity: readonly {
    readonly quantity: string;
    readonly cost: SpreadText;
    readonly margin: string;
    readonly lossRisk: string;
  }[];
}

/** Money has two decimals in every currency we quote in. */
const MONEY_DECIMALS = 2;

/** Size of the part's picture on a quotation, mm on paper. */
const PICTURE = { widthMm: 72, maxHeightMm: 68, isPlain: true };

export function quotationView(data: QuotationData): QuotationView {
  const text = lengthTextOf(data);
  const { customer, internal } = data;
  const facts: Fact[] = [
    { label: 'Enquiry', value: data.jobNumber },
    { label: 'Date', value: dateText(data.date) },
  ];
  if (data.validUntil !== undefined) facts.push({ label: 'Valid until', value: dateText(data.validUntil) });
  const contact = customer.contact === undefined ? [] : [customer.contact];
  return {
    head: headView('Quotation', data, internal === undefined ? '' : 'NOT FOR THE CUSTOMER'),
    customer: [customer.name, ...contact, ...(customer.lines ?? [])],
    facts,
    validUntil: data.validUntil === undefined ? '' : dateText(data.validUntil),
    currency: data.currency,
    part: partFacts(data.part, text),
    drawing:
      data.drawing === undefined
        ? null
        : { ...drawingSvg(data.drawing, text, PICTURE), alt: `Drawing of ${data.part.name}` },
    prices: data.prices.map((p) => ({
      quantity: fixed(p.quantity, 0),
      unit: fixed(p.unitPrice, MONEY_DECIMALS),
      total: fixed(p.totalPrice, MONEY_DECIMALS),
    })),
    delivery: data.delivery ?? '',
    drivers: data.drivers.map((d) => ({ says: d.says, change: changeText(d, data.currency) })),
    assumptions: data.assumptions,
    problems: problemViews(data.problems, text, internal !== undefined),
    asks: data.asks,
    terms: data.terms,
    internal:
      internal === undefined
        ? null
        : {
            lines: internal.lines.map((l) => ({ title: l.title, cost: spreadText(l.costPerPart, MONEY_DECIMALS) })),
            byQuantity: internal.byQuantity.map((row) => ({
              quantity: fixed(row.quantity, 0),
              cost: spreadText(row.costPerPart, MONEY_DECIMALS),
              margin: `${fixed(row.marginRatio * 100, 0)} %`,
              lossRisk: `${fixed(row.lossRisk * 100, 0)} %`,
            })),
          },
  };
}

/** `−14.20 EUR per piece (−12 %)`, as far as known. */
function changeText(driver: PriceDriver, currency: string): string {
  const share = driver.relativeChange === undefined ? '' : percentChange(driver.relativeChange);
  if (driver.priceChange === undefined) return share === '' ? '' : `${share} per piece`;
  const sign = driver.priceChange > 0 ? '+' : '';
  const money = `${sign}${fixed(driver.priceChange, MONEY_DECIMALS)} ${currency} per piece`;
  return share === '' ? money : `${money} (${share})`;
}
