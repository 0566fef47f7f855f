import { TECHNOLOGY_QUANTITIES, TECHNOLOGY_QUANTITY_NAMES, withUnit } from './quantities.js';
import type { QuantityValues, TechnologyBook, TechnologyPoint } from './technology-point.js';

/** What happened to one point between two books. */
export interface PointChange {
  readonly kind: 'added' | 'removed' | 'changed';
  readonly id: string;
  /** One sentence. */
  readonly says: string;
}

const number = (value: number): string => String(Number(value.toPrecision(6)));

function valuesText(values: QuantityValues): string {
  const parts: string[] = [];
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    const value = values[name];
    if (value !== undefined) parts.push(`${TECHNOLOGY_QUANTITIES[name].says} ${withUnit(number(value), name)}`);
  }
  return parts.join(', ');
}

function pointText(p: TechnologyPoint): string {
  const how = valuesText(p.conditions);
  return `${p.process} ${p.material} with ${p.tool}${how === '' ? '' : ` at ${how}`}: ${valuesText(p.results)} [${p.source.title}]`;
}

function changesOf(a: TechnologyPoint, b: TechnologyPoint): string[] {
  const out: string[] = [];
  for (const field of ['process', 'material', 'tool'] as const) {
    if (a[field] !== b[field]) out.push(`${field} "${a[field]}" became "${b[field]}"`);
  }
  for (const role of ['conditions', 'results'] as const) {
    for (const name of TECHNOLOGY_QUANTITY_NAMES) {
      const before = a[role][name];
      const after = b[role][name];
      if (before === after) continue;
      const { says } = TECHNOLOGY_QUANTITIES[name];
      if (before === undefined) out.push(`${says} ${withUnit(number(after!), name)} came in`);
      else if (after === undefined) out.push(`${says} ${withUnit(number(before), name)} went out`);
      else {
        const percent =
          before === 0
            ? ''
            : ` (${after > before ? '+' : '−'}${Number(Math.abs((after / before - 1) * 100).toPrecision(3))} %)`;
        out.push(`${says} ${number(before)} became ${withUnit(number(after), name)}${percent}`);
      }
    }
  }
  const { source: from } = a;
  const { source: to } = b;
  if (from.id !== to.id || from.title !== to.title) out.push(`source "${from.title}" became "${to.title}"`);
  if (from.standing !== to.standing) out.push(`standing "${from.standing}" became "${to.standing}"`);
  if (from.where !== to.where) out.push(`place in the source "${from.where ?? ''}" became "${to.where ?? ''}"`);
  if (a.note !== b.note) out.push(`note "${a.note ?? ''}" became "${b.note ?? ''}"`);
  return out;
}

/** What changed from book `a` to book `b`, by point id in ascending order. Empty exactly when the points are equal. */
export function diffTechnologyBooks(a: TechnologyBook, b: TechnologyBook): readonly PointChange[] {
  const before = new Map(a.points.map((p) => [p.id, p]));
  const after = new Map(b.points.map((p) => [p.id, p]));
  const changes: PointChange[] = [];
  for (const id of [...new Set([...before.keys(), ...after.keys()])].sort()) {
    const old = before.get(id);
    const young = after.get(id);
    if (old === undefined) changes.push({ kind: 'added', id, says: `${id} added: ${pointText(young!)}` });
    else if (young === undefined) changes.push({ kind: 'removed', id, says: `${id} removed: ${pointText(old)}` });
    else {
      const parts = changesOf(old, young);
      if (parts.length > 0) changes.push({ kind: 'changed', id, says: `${id} changed: ${parts.join('; ')}` });
    }
  }
  return changes;
}
