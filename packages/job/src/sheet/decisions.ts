import type { ComputedChoices, SlugHandling, StartHolePlace, WireOperation } from '@gapwright/planning';
import { findWire, findWireMachine, type ShopBook } from '@gapwright/process';
import { wireOperationsOf } from '../run-job.js';
import { decisionCost, priceCost } from './decision-cost.js';
import type { DraftJob } from './draft-job.js';
import type { Outcome } from './outcome.js';
import type { Decision, DecisionCost } from './sheet-answer.js';
import { wireOptions } from './wire-options.js';

/** What decisions are made of. */
export interface DecisionParts extends Outcome {
  readonly draft: DraftJob;
  readonly book: ShopBook;
  /** The outcome with this decision left to the plan, where it is known already. */
  computed(id: string): Outcome | null;
}

/** Shown in place of a computed choice that is still being worked out. */
export const NOT_YET = '…';

/** Widest range asked for; the room that owns a number says where it makes no sense. */
const MOST_MM = 10_000;
const MOST_MONEY = 10_000_000;

type Head = Pick<Decision, 'id' | 'label' | 'feature' | 'isOverruled' | 'because'> &
  Partial<Pick<Decision, 'operation'>>;

/** All choices of a plan that may be overruled: those of the whole job first, then feature by feature. */
export function decisionsOf(parts: DecisionParts): Decision[] {
  const operation = wireOperationsOf(parts.plan)[0] ?? null;
  const computed = parts.plan.computed[0] ?? null;
  const decisions = [
    wireDecision(parts, operation),
    ...machineDecision(parts, operation),
    ...stackDecision(parts, operation),
    ...passDecision(parts, operation, computed),
    ...radiusDecision(parts, operation),
    ...orderDecision(parts, operation, computed),
    ...priceDecision(parts),
    ...featureDecisions(parts, operation, computed),
  ];
  return decisions.map((d) => (d.isOverruled ? { ...d, costs: costsOf(parts, d.id) } : d));
}

function costsOf(parts: DecisionParts, id: string): DecisionCost | null {
  if (id === 'unitPrice') return priceCost(parts);
  const computed = parts.computed(id);
  return computed === null ? null : decisionCost(parts, computed);
}

function decision(head: Head, chosen: string, computed: string, input: Decision['input']): Decision {
  return { operation: null, ...head, chosen, computed, input, costs: null };
}

/** The computed choice as text: the one in force unless overruled, else what is known of the plan without the decision. */
function computedText(
  { computed }: DecisionParts,
  id: string,
  isOverruled: boolean,
  chosen: string,
  text: (operation: WireOperation) => string,
): string {
  if (!isOverruled) return chosen;
  const outcome = computed(id);
  const operation = outcome === null ? undefined : wireOperationsOf(outcome.plan)[0];
  return outcome === null ? NOT_YET : operation === undefined ? 'no plan' : text(operation);
}

function wireDecision(parts: DecisionParts, operation: WireOperation | null): Decision {
  const { draft, plan, book } = parts;
  const id = operation?.wireId ?? (draft.wire === undefined ? '' : (findWire(book, draft.wire)?.id ?? draft.wire));
  const isOverruled = draft.wire !== undefined;
  const computed = computedText(parts, 'wire', isOverruled, id, (op) => op.wireId);
  const cheapest = plan.wireOptions.find((o) => o.marks.includes('cheapest'))?.wireId;
  const because = 'The cheapest wire that gets into every corner and meets finish and tolerance.';
  return decision(
    { id: 'wire', label: 'Wire', feature: null, isOverruled, because, operation: operation?.number ?? null },
    id === '' ? 'none fits' : id,
    computed === NOT_YET && draft.machine === undefined ? (cheapest ?? NOT_YET) : computed,
    { kind: 'choice', value: id, options: wireOptions(plan, book, id) },
  );
}

function machineDecision(parts: DecisionParts, operation: WireOperation | null): Decision[] {
  const { draft, book } = parts;
  const isOverruled = draft.machine !== undefined;
  if (operation === null && !isOverruled) return [];
  const stated = draft.machine === undefined ? '' : (findWireMachine(book, draft.machine)?.id ?? draft.machine);
  const id = operation?.machineId ?? stated;
  const options = book.wireMachines.map((m) => {
    const runs = operation === null || m.wireIds.includes(operation.wireId);
    const wires = runs ? m.name : `does not run wire ${operation?.wireId}`;
    return { value: m.id, says: `${m.id}: ${wires}`, isPossible: runs };
  });
  const because = 'The machine with the lowest cost of all that run the wire and take the plate.';
  return [
    decision(
      { id: 'machine', label: 'Machine', feature: null, isOverruled, because, operation: operation?.number ?? null },
      id,
      computedText(parts, 'machine', isOverruled, id, (op) => op.machineId),
      { kind: 'choice', value: id, options },
    ),
  ];
}

function stackDecision(parts: DecisionParts, operation: WireOperation | null): Decision[] {
  const { draft, plan, book } = parts;
  const isOverruled = draft.stack !== undefined;
  if (operation === null && !isOverruled) return [];
  const stack = operation?.stack ?? draft.stack ?? 1;
  // The rest of a quantity may burn in a lower stack; the first operation has the stack that is decided.
  const most = Math.max(stack, Math.min(book.rules.maxStack.value, plan.request.quantity));
  const options = Array.from({ length: most }, (_, i) => {
    const says = i === 0 ? '1: one plate at a time' : `${i + 1}: ${(i + 1) * plan.request.heightMm} mm high`;
    return { value: String(i + 1), says, isPossible: true };
  });
  const because = 'The number of plates on top of each other that costs least, set-ups and burning together.';
  return [
    decision(
      { id: 'stack', label: 'Plates per stack', feature: null, isOverruled, because },
      String(stack),
      computedText(parts, 'stack', isOverruled, String(stack), (op) => String(op.stack)),
      { kind: 'choice', value: String(stack), options },
    ),
  ];
}

function passDecision(
  parts: DecisionParts,
  operation: WireOperation | null,
  computed: ComputedChoices | null,
): Decision[] {
  const { draft, book } = parts;
  const stated = draft.overrides?.passLevels;
  const levels = operation?.passes.map((p) => p.level) ?? stated;
  if (levels === undefined) return [];
  const because = 'The fewest and fastest passes that meet finish, tolerance and recast.';
  return [
    decision(
      {
        id: 'passes',
        label: 'Passes',
        feature: null,
        isOverruled: stated !== undefined,
        because,
        operation: operation?.number ?? null,
      },
      levels.join(', '),
      computed?.passLevels?.join(', ') ?? (stated === undefined ? levels.join(', ') : 'none meet what is asked'),
      { kind: 'levels', value: levels, options: book.wireLevels.map(({ level, name }) => ({ level, name })) },
    ),
  ];
}

function radiusDecision(parts: DecisionParts, operation: WireOperation | null): Decision[] {
  const { draft, plan } = parts;
  const isOverruled = draft.agreedCornerRadiusMm !== undefined;
  const isSharp = plan.features.some((f) => f.sharpInsideCorners.length > 0);
  if (!isOverruled && !isSharp) return [];
  const value = draft.agreedCornerRadiusMm ?? operation?.agreedCornerRadiusMm ?? null;
  const chosen = value === null ? 'none' : mm(value);
  const because = 'What the last pass leaves in corners drawn sharp; the customer is asked to agree.';
  return [
    decision(
      { id: 'agreedCornerRadiusMm', label: 'Agreed corner radius', feature: null, isOverruled, because },
      chosen,
      computedText(parts, 'agreedCornerRadiusMm', isOverruled, chosen, (op) => mm(op.agreedCornerRadiusMm)),
      { kind: 'length', value, min: 0, max: MOST_MM },
    ),
  ];
}

function orderDecision(
  parts: DecisionParts,
  operation: WireOperation | null,
  computed: ComputedChoices | null,
): Decision[] {
  const stated = parts.draft.overrides?.order;
  const order = operation === null ? stated : orderOf(operation);
  if (order === undefined || (order.length < 2 && stated === undefined)) return [];
  const because = 'Inside before outside, so that everything is held while it is cut, on a short way.';
  return [
    decision(
      {
        id: 'order',
        label: 'Order of cutting',
        feature: null,
        isOverruled: stated !== undefined,
        because,
        operation: operation?.number ?? null,
      },
      order.join(', '),
      (computed?.order ?? order).join(', '),
      { kind: 'order', value: order },
    ),
  ];
}

/** Features in the order in which they are first cut. */
function orderOf({ steps }: WireOperation): string[] {
  return [...new Set(steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : [])))];
}

function priceDecision({ draft, offer }: DecisionParts): Decision[] {
  if (offer === null) return [];
  const money = (value: number): string => `${value.toFixed(2)} ${offer.currency}`;
  const isOverruled = draft.offer?.unitPrice !== undefined;
  const because = 'Expected cost with the margin of the shop book.';
  const value = offer.unitPrice.value;
  return [
    decision(
      { id: 'unitPrice', label: 'Price per piece', feature: null, isOverruled, because },
      money(value),
      money(offer.computedUnitPrice.value),
      { kind: 'money', value, min: 0, max: MOST_MONEY },
    ),
  ];
}

function featureDecisions(
  parts: DecisionParts,
  operation: WireOperation | null,
  computed: ComputedChoices | null,
): Decision[] {
  const { plan, draft } = parts;
  const { startHoles = {}, slugHandling = {}, tabMm = {} } = draft.overrides ?? {};
  const holes = new Map((operation?.startHoles ?? []).flatMap((h) => h.features.map((f) => [f, h] as const)));
  const slugs = new Map((operation?.slugs ?? []).map((s) => [s.feature, s]));
  const number = operation?.number ?? null;
  const head = (kind: string, label: string, feature: string, isOverruled: boolean, because: string): Head => {
    return { id: `${kind}:${feature}`, label, feature, isOverruled, because, operation: number };
  };
  // What is overruled of a feature the drawing does not have any more is shown too, so that it can be taken back.
  const named = [startHoles, slugHandling, tabMm].flatMap((by) => Object.keys(by));
  const ids = new Set([...plan.features.map((f) => f.id), ...named]);
  return [...ids].flatMap((id): Decision[] => {
    const out: Decision[] = [];
    const hole = holes.get(id);
    const place: StartHolePlace | undefined =
      hole === undefined ? startHoles[id] : { ...hole.at, diameterMm: hole.diameterMm, fromEdge: hole.fromEdge };
    if (place !== undefined) {
      const was = computed?.startHoles[id];
      out.push(
        decision(
          head(
            'startHole',
            'Start hole',
            id,
            startHoles[id] !== undefined,
            'The nearest place in the waste with room for hole and lead-in, shared where one hole serves several cuts.',
          ),
          placeText(place),
          was === undefined ? (startHoles[id] === undefined ? placeText(place) : 'no room found') : placeText(was),
          { kind: 'place', xMm: place.x, yMm: place.y },
        ),
      );
    }
    const slug = slugs.get(id);
    const handling = slug?.handling ?? slugHandling[id];
    if (handling !== undefined) {
      const piece = slug?.piece === 'part' ? 'Part' : 'Slug';
      out.push(
        decision(
          head(
            'slug',
            `${piece} when freed`,
            id,
            slugHandling[id] !== undefined,
            'By its weight: light pieces fall free, heavy ones keep a tab until somebody is there.',
          ),
          handling,
          computed?.slugHandling[id] ?? handling,
          { kind: 'choice', value: handling, options: HANDLINGS.map((h) => ({ value: h, says: h, isPossible: true })) },
        ),
      );
    }
    const tab = slug?.tabMm?.value ?? tabMm[id];
    if (tab !== undefined) {
      const was = computed?.tabMm[id];
      out.push(
        decision(
          head('tab', 'Tab', id, tabMm[id] !== undefined, 'Long enough to hold the weight of the piece.'),
          mm(tab),
          was === undefined ? 'none' : mm(was),
          { kind: 'length', value: tab, min: 0, max: MOST_MM },
        ),
      );
    }
    return out;
  });
}

const HANDLINGS: readonly SlugHandling[] = ['falls free', 'tab', 'tab and support'];

function placeText({ x, y, diameterMm, fromEdge }: StartHolePlace): string {
  const at = `(${x.toFixed(3)}, ${y.toFixed(3)})`;
  if (fromEdge === true) return `${at} from the edge`;
  return diameterMm === undefined ? at : `${at} ⌀ ${diameterMm.toFixed(1)}`;
}

function mm(value: number): string {
  return `${value.toFixed(value < 1 ? 3 : 2)} mm`;
}
