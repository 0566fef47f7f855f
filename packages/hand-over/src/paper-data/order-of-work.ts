import { lengthMm } from '@gapwright/geometry';
import { sure, type WorkStep } from '@gapwright/papers';
import type { WireOperation } from '@gapwright/planning';

/** Features named one by one; more are counted. */
const MOST_NAMED = 6;

/** The program's steps in words: burning stretches between the moments that need a person. */
export function orderOfWork(operation: WireOperation): WorkStep[] {
  const touch = (kind: 'set-up' | 'unload'): WorkStep[] =>
    operation.touches.filter((t) => t.kind === kind).map((t) => ({ kind: 'touch', says: t.says, min: t.min }));
  const out: WorkStep[] = touch('set-up');
  let passesOf = new Map<string, Set<number>>();
  let minutes = 0;
  const flush = (): void => {
    if (passesOf.size > 0) out.push({ kind: 'burn', says: stretchWords(passesOf), min: sure(minutes) });
    passesOf = new Map();
    minutes = 0;
  };
  for (const step of operation.steps) {
    if (step.kind === 'stop') {
      flush();
      out.push({ kind: 'touch', says: step.reason });
    } else if (step.kind === 'cut') {
      passesOf.set(step.feature, (passesOf.get(step.feature) ?? new Set()).add(step.pass));
      const segments = [...step.leadIn, ...step.path, ...step.leadOut];
      minutes += lengthMm({ segments, isClosed: false }) / step.feedMmPerMin;
    }
  }
  flush();
  return [...out, ...touch('unload')];
}

/** `Passes 2 to 5 of F4, F2; passes 1 to 5 of F1`: features that get the same passes are named together. */
function stretchWords(passesOf: ReadonlyMap<string, ReadonlySet<number>>): string {
  const groups = new Map<string, string[]>();
  for (const [feature, passes] of passesOf) {
    const words = passWords([...passes].sort((a, b) => a - b));
    groups.set(words, [...(groups.get(words) ?? []), feature]);
  }
  const text = [...groups].map(([words, features]) => `${words} of ${featureWords(features)}`).join('; ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function passWords(passes: readonly number[]): string {
  if (passes.length === 1) return passes[0] === 1 ? 'rough cut' : `pass ${passes[0]}`;
  return `passes ${passes[0]} to ${passes.at(-1)}`;
}

/** `F1, F2, F3`, or from seven on `F1 to F9 (9 features)`. */
export function featureWords(features: readonly string[]): string {
  if (features.length <= MOST_NAMED) return features.join(', ');
  const sorted = [...features].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)));
  return `${sorted[0]} to ${sorted.at(-1)} (${features.length} features)`;
}
