import { dateText, type Fact, type HeadView, headView, lengthTextOf, partFacts } from './head-view.js';
import { fixed, minuteCells, type SpreadText, timePhrase } from './number-text.js';
import type { RouteCardData } from './route-card-data.js';
import type { Spread } from './spread.js';

/** A route card in words, ready to be set. */
export interface RouteCardView {
  readonly head: HeadView;
  readonly part: readonly Fact[];
  readonly order: readonly Fact[];
  readonly operations: readonly {
    readonly number: string;
    readonly title: string;
    readonly machine: string;
    readonly runs: string;
    readonly onMachine: boolean;
    readonly machineMin: SpreadText;
    readonly attendedMin: SpreadText;
    readonly touches: readonly string[];
    readonly program: string;
  }[];
  readonly totals: readonly Fact[];
}

/** A dash says that the operation needs none, so that nobody looks for a lost number. */
function timeCells(min: Spread): SpreadText {
  return min.high === 0 ? { value: '–', range: '' } : minuteCells(min);
}

export function routeCardView(data: RouteCardData): RouteCardView {
  const order: Fact[] = [
    { label: 'Job', value: data.jobNumber },
    { label: 'Date', value: dateText(data.date) },
    { label: 'Quantity', value: fixed(data.quantity, 0) },
  ];
  if (data.customer !== undefined) order.push({ label: 'Customer', value: data.customer });
  if (data.due !== undefined) order.push({ label: 'Promised for', value: dateText(data.due) });
  const { totals } = data;
  return {
    head: headView('Route card', data),
    part: partFacts(data.part, lengthTextOf(data)),
    order,
    operations: data.operations.map((o) => ({
      number: String(o.number),
      title: o.title,
      machine: o.machine,
      runs: fixed(o.runs, 0),
      onMachine: o.machineMin.high > 0,
      machineMin: timeCells(o.machineMin),
      attendedMin: timeCells(o.attendedMin),
      touches: o.touches ?? [],
      program: o.program ?? '',
    })),
    totals:
      totals === undefined
        ? []
        : [
            { label: 'Burning', value: timePhrase(totals.burnMin) },
            { label: 'Machine alone', value: timePhrase(totals.machineMin) },
            { label: 'Attended', value: timePhrase(totals.attendedMin) },
            { label: 'Touches', value: fixed(totals.touches.value, 0) },
          ],
  };
}
