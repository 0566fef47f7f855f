import type { PackedPaths, Scene, SheetAnswer } from '@gapwright/job';

type Numbers = readonly number[];
interface PlainPaths {
  readonly values: Numbers;
  readonly starts: Numbers;
  readonly closed: Numbers;
}

/**
 * The answer out of the file an offer keeps: the fields of a sheet answer with plain lists in place of packed numbers.
 * Throws a sentence when the file is not one.
 */
export function readKeptAnswer(bytes: Uint8Array): SheetAnswer {
  const kept: unknown = JSON.parse(new TextDecoder().decode(bytes));
  if (typeof kept !== 'object' || kept === null || !('plan' in kept)) {
    throw new Error('The kept file holds no job sheet.');
  }
  const { plan, price } = kept as SheetAnswer;
  // An offer made from a job file keeps the documents of plan and price alone.
  if (!('decisions' in kept)) {
    return {
      questions: [],
      drawing: null,
      scene: null,
      plan,
      proofs: null,
      price,
      counterOffers: null,
      decisions: [],
      problems: plan?.problems ?? [],
      cautions: [],
      standing: '',
    } as SheetAnswer;
  }
  const answer = kept as SheetAnswer;
  return { ...answer, scene: answer.scene === null ? null : packedScene(answer.scene) };
}

/** A scene whose lists came out of JSON. */
function packedScene(scene: Scene): Scene {
  return {
    ...scene,
    layers: scene.layers.map((l) => ({ ...l, paths: packedPaths(l.paths) })),
    bands: scene.bands.map((b) => ({ ...b, samples: Float64Array.from(b.samples) })),
    walks: scene.walks.map((w) => ({
      ...w,
      paths: packedPaths(w.paths),
      endMin: Float64Array.from(w.endMin),
      cuts: Uint8Array.from(w.cuts),
      lines: Uint32Array.from(w.lines),
      halfKerfMm: Float32Array.from(w.halfKerfMm),
    })),
  };
}

function packedPaths(paths: PackedPaths | PlainPaths): PackedPaths {
  return {
    values: Float64Array.from(paths.values),
    starts: Uint32Array.from(paths.starts),
    closed: Uint8Array.from(paths.closed),
  };
}
