import type { PlanDocument } from '../documents/plan-document.js';
import type { Scene } from './scene.js';
import type { SheetAnswer, SheetPart } from './sheet-answer.js';

/** What the proof adds to a plan document. */
export interface ProvenPlan {
  readonly proof: PlanDocument['proof'];
  readonly programs: PlanDocument['programs'];
  /** File name of the program of each wire operation. */
  readonly programOf: Readonly<Record<number, string>>;
  /** False when no program can be written: then there is no offer either. */
  readonly keepsOffer: boolean;
  readonly problems: SheetAnswer['problems'];
}

/** What one step changes in an answer. Fields that are absent stay as they are; a scene is patched by field, null takes it away. */
export interface SheetPatch extends Partial<Omit<SheetAnswer, 'scene'>> {
  readonly scene?: Partial<Scene> | null;
  readonly provenPlan?: ProvenPlan;
}

/** One step on the way to an answer. */
export interface SheetStep {
  /** The part that is whole with this step; null while one is under way. */
  readonly done: SheetPart | null;
  readonly patch: SheetPatch;
  /** What comes next, in words; null after the last step. */
  readonly working: string | null;
  /** Share of the part under way, 0 to 1; null where it is not known. */
  readonly progress: number | null;
}

/** An answer of which nothing is known yet. */
export const NO_ANSWER: SheetAnswer = Object.freeze({
  questions: [],
  drawing: null,
  scene: null,
  plan: null,
  proofs: null,
  price: null,
  counterOffers: null,
  decisions: [],
  problems: [],
  cautions: [],
  standing: '',
});

const NO_SCENE: Scene = Object.freeze({
  boxMm: { minX: 0, minY: 0, maxX: 0, maxY: 0 },
  layers: [],
  marks: [],
  bands: [],
  walks: [],
});

/** The answer with one step more. Untouched fields are shared, not copied. */
export function patchAnswer(answer: SheetAnswer, patch: SheetPatch): SheetAnswer {
  const { scene, provenPlan, ...fields } = patch;
  let next: SheetAnswer = { ...answer, ...fields };
  if (scene !== undefined) next = { ...next, scene: scene && { ...(next.scene ?? NO_SCENE), ...scene } };
  if (provenPlan !== undefined && next.plan !== null) next = { ...next, plan: withProof(next.plan, provenPlan) };
  return next;
}

function withProof(plan: PlanDocument, { proof, programs, programOf, keepsOffer, problems }: ProvenPlan): PlanDocument {
  return {
    ...plan,
    proof,
    programs,
    problems: [...problems],
    offer: keepsOffer ? plan.offer : null,
    operations: plan.operations.map((op) =>
      op.process === 'wire' ? { ...op, program: programOf[op.number] ?? null } : op,
    ),
  };
}
