import {
  apply,
  BY_DEFINITION,
  defineLaw,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
} from '@gapwright/base';
import { ISO_1302, VDI_3400, WIRE_PRACTICE } from './sources.js';

const CLASS_FROM_RA = defineLaw({
  id: 'vdi-from-ra',
  says: 'VDI 3400 class: Ra in decibels above 0.1 µm.',
  formula: '20 log10(10 Ra)',
  source: VDI_3400,
  inputs: { Ra: { unit: 'um', says: 'Ra', valid: [0.1, 18] } },
  output: 'VDI',
  evaluate: ({ Ra }) => 20 * Math.log10(10 * Ra),
});

const RA_FROM_CLASS = defineLaw({
  id: 'ra-from-vdi',
  says: 'Ra of a VDI 3400 class.',
  formula: '0.1 × 10^(class / 20)',
  source: VDI_3400,
  inputs: { class: { unit: 'VDI', says: 'VDI 3400 class', valid: [0, 45] } },
  output: 'um',
  evaluate: (inputs) => 0.1 * 10 ** (inputs.class / 20),
});

const RZ_FROM_RA = defineLaw({
  id: 'rz-from-ra',
  says: 'Eroded surfaces have Rz of about 4 to 7 times Ra; there is no exact conversion.',
  formula: '5.5 Ra',
  source: WIRE_PRACTICE,
  inputs: { Ra: { unit: 'um', says: 'Ra' } },
  output: 'um',
  // exp(1.28 × 0.22) is a factor of 1.32 either way: 4.2 to 7.3 times Ra.
  scatter: { relative: 0.22, cause: 'rz-over-ra' },
  evaluate: ({ Ra }) => 5.5 * Ra,
});

/** Finest and coarsest class of the VDI 3400 scale. */
export const VDI_CLASSES = [0, 45] as const;

/** VDI 3400 class of a roughness as a figure (unrounded, unit `VDI`). Ra must be above 0. The figure says so when it leaves the scale. */
export function vdiFromRa(raUm: Figure): Figure {
  return apply(CLASS_FROM_RA, { Ra: raUm });
}

/** Ra of a VDI 3400 class, µm. */
export function raFromVdi(vdiClass: Figure): Figure {
  return apply(RA_FROM_CLASS, { class: vdiClass });
}

/** Approximate Rz of an eroded surface, µm; print it with "approx.". */
export function rzFromRa(raUm: Figure): Figure {
  return apply(RZ_FROM_RA, { Ra: raUm });
}

/** Whole VDI 3400 class of a Ra in µm, as printed on drawings. Outside the scale: problem `PROCESS-VDI-OUTSIDE`, no value. */
export function vdiClassOf(raUm: number): Result<number> {
  if (!(raUm > 0) || !Number.isFinite(raUm)) return outsideVdi(`Ra ${raUm} µm is not a roughness`);
  const vdi = Math.round(20 * Math.log10(10 * raUm));
  if (vdi < VDI_CLASSES[0] || vdi > VDI_CLASSES[1]) return outsideVdi(`Ra ${raUm} µm would be class ${vdi}`);
  // -0 would print as "-0".
  return { value: vdi === 0 ? 0 : vdi, problems: [] };
}

function outsideVdi(what: string): Result<never> {
  const fix = 'State Ra in µm instead of a VDI class';
  const scale = `the VDI 3400 scale runs from ${VDI_CLASSES[0]} to ${VDI_CLASSES[1]}`;
  return {
    value: null,
    problems: [problem({ code: 'PROCESS-VDI-OUTSIDE', severity: 'stop', what: `${what}; ${scale}`, fix })],
  };
}

/** Ra in µm of the grades N1 to N12. */
const N_GRADES_UM = [0.025, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.3, 12.5, 25, 50] as const;

/** Ra of a roughness grade `N1` to `N12` as on old drawings, µm. Problem `PROCESS-N-GRADE` for anything else. */
export function raFromN(grade: string): Result<Figure> {
  const match = /^n\s?(\d{1,2})$/i.exec(grade.trim());
  const ra = match === null ? undefined : N_GRADES_UM[Number(match[1]) - 1];
  if (ra === undefined) {
    const what = `"${grade.slice(0, 20)}" is not a roughness grade`;
    return {
      value: null,
      problems: [problem({ code: 'PROCESS-N-GRADE', severity: 'stop', what, fix: 'Use N1 to N12, or Ra in µm' })],
    };
  }
  return { value: given(ra, 'um', `Roughness grade N${match![1]}`, ISO_1302), problems: [] };
}

/** The coarsest grade that still meets a Ra in µm, e.g. 0.8 gives `N6`; null when even N1 is too coarse. */
export function nGradeFor(raUm: number): string | null {
  // Grades are preferred numbers, so 6.3 and the exact 6.4 are the same grade; 3 % is the rounding of the printed scale.
  const PREFERRED_NUMBER_ROUNDING = 1.03;
  for (let k = N_GRADES_UM.length - 1; k >= 0; k--) {
    if (N_GRADES_UM[k]! <= raUm * PREFERRED_NUMBER_ROUNDING) return `N${k + 1}`;
  }
  return null;
}

/** How Ra is measured by default: the cut-off length that goes with it (16 % rule), mm; null outside 0.02 to 80 µm. */
export function defaultCutOffMm(raUm: number): number | null {
  if (!(raUm > 0.006) || raUm > 80) return null;
  if (raUm <= 0.02) return 0.08;
  if (raUm <= 0.1) return 0.25;
  if (raUm <= 2) return 0.8;
  return raUm <= 10 ? 2.5 : 8;
}

/** Recast, accuracy and fatigue are never promised; this problem says so beside a plan. */
export function integrityNotice(recastMaxUm?: number): Problem {
  return problem({
    code: 'PROCESS-RECAST-ESTIMATE',
    severity: 'info',
    what:
      recastMaxUm === undefined
        ? 'Recast depth is an estimate; cracks and fatigue strength are not estimated at all'
        : `Recast depth is an estimate, the drawing allows ${recastMaxUm} µm; cracks and fatigue strength are not estimated at all`,
    fix: "Confirm by cut-ups and the customer's specification; plan removal after burning where it asks for it",
  });
}

const REMOVAL = defineLaw({
  id: 'recast-removal-allowance',
  says: 'Where the recast layer must go, take off a multiple of its greatest depth, for the softened and cracked metal under it.',
  formula: 'k r',
  source: WIRE_PRACTICE,
  inputs: { k: { unit: '1', says: 'times the deepest recast' }, r: { unit: 'um', says: 'deepest recast' } },
  output: 'um',
  evaluate: ({ k, r }) => k * r,
});

/** Material to take off after burning where the recast layer must be removed, µm. */
export function recastRemoval(recastUm: Figure, factor: Figure): Figure {
  return apply(REMOVAL, { k: factor, r: recastUm });
}

const MICROINCH = defineLaw({
  id: 'microinch-from-um',
  says: 'One inch is 25.4 mm, so a micrometre is 39.37 microinches.',
  formula: 'Ra / 0.0254',
  source: BY_DEFINITION,
  inputs: { Ra: { unit: 'um', says: 'Ra' } },
  output: 'uin',
  evaluate: ({ Ra }) => Ra / 0.0254,
});

/** Ra in microinches. */
export function microinchFromUm(raUm: Figure): Figure {
  return apply(MICROINCH, { Ra: raUm });
}
