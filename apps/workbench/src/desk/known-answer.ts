import type { DraftJob, SheetAnswer } from '@gapwright/job';

/** What is remembered of an operation for the floor. Times are per run, minutes. */
export interface KnownOperation {
  readonly number: number;
  readonly title: string;
  readonly process: string;
  readonly machineId: string;
  readonly runs: number;
  readonly machineMin: number;
  readonly attendedMin: number;
  readonly touches: readonly { readonly kind: string; readonly says: string; readonly min: number }[];
}

/** The small part of a job's last answer that slips and the floor show without planning again. */
export interface KnownAnswer {
  readonly jobId: string;
  /** Stands for the inputs it belongs to; see {@link inputsKey}. Null when whoever remembered it did not say. */
  readonly key: string | null;
  readonly openQuestions: number;
  /** First problem that stops the plan, and how many there are. */
  readonly stop: string | null;
  readonly stops: number;
  readonly price: {
    readonly quantity: number;
    readonly unitPrice: number;
    readonly currency: string;
    readonly lossRisk: number;
  } | null;
  readonly proof: 'not proved yet' | 'proved' | 'fails the proof';
  readonly operations: readonly KnownOperation[];
}

/** Fields that change no plan and no price. */
const WORDS_ONLY = new Set([
  'title',
  'customer',
  'enquiry',
  'notes',
  'enquiryText',
  'wantedDay',
  'promisedDay',
  'invented',
]);

/** A short key of everything of a job its plan depends on. Equal inputs give equal keys; used to say that a remembered price is from before a change. */
export function inputsKey(draft: DraftJob, drawingSha256: string | null): string {
  const fields = Object.entries(draft)
    .filter(([name, value]) => value !== undefined && !WORDS_ONLY.has(name))
    .sort(([a], [b]) => (a < b ? -1 : 1));
  const text = JSON.stringify([fields, drawingSha256]);
  // FNV-1a, 32 bit, twice with different starts: no secret, only to tell two states of one job apart.
  let a = 0x811c9dc5;
  let b = 0x01234567;
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, 0x01000193);
    b = Math.imul(b ^ code, 0x01000193);
  }
  return (a >>> 0).toString(16).padStart(8, '0') + (b >>> 0).toString(16).padStart(8, '0');
}

/** What to remember of an answer. */
export function knownAnswer(jobId: string, answer: SheetAnswer, key: string | null): KnownAnswer {
  const stops = answer.problems.filter((p) => p.severity === 'stop');
  const offer = answer.plan?.offer ?? null;
  const proofs = answer.proofs ?? [];
  return {
    jobId,
    key,
    openQuestions: answer.questions.length,
    stop: stops[0]?.message ?? null,
    stops: stops.length,
    price:
      offer === null
        ? null
        : {
            quantity: offer.quantity,
            unitPrice: offer.unitPrice.value,
            currency: offer.currency,
            lossRisk: offer.lossRisk.value,
          },
    proof:
      proofs.length === 0 ? 'not proved yet' : proofs.every((p) => p.verdict === 'pass') ? 'proved' : 'fails the proof',
    operations: (answer.plan?.operations ?? []).map((op) => ({
      number: op.number,
      title: op.title,
      process: op.process,
      machineId: op.machineId,
      runs: op.runs,
      machineMin: op.machineMin.value,
      attendedMin: op.attendedMin.value,
      touches: op.touches.map((t) => ({ kind: t.kind, says: t.says, min: t.min.value })),
    })),
  };
}

/**
 * Answers come in parts: a part that has not come again yet stays as it was remembered for the same inputs. A proof stays only while the
 * price is the same, since the shop book may have changed the plan.
 */
export function mergedAnswer(old: KnownAnswer | undefined, next: KnownAnswer): KnownAnswer {
  const isSame = old !== undefined && next.key !== null && old.key === next.key;
  if (!isSame || next.stop !== null || next.openQuestions > 0) return next;
  const price = next.price ?? old.price;
  const keepsProof = next.proof === 'not proved yet' && price?.unitPrice === old.price?.unitPrice;
  return {
    ...next,
    price,
    proof: keepsProof ? old.proof : next.proof,
    operations: next.operations.length > 0 ? next.operations : old.operations,
  };
}
