import type { Point } from '@gapwright/geometry';
import { type DrawingSvg, drawingSvg } from './drawing/drawing-svg.js';
import {
  type Fact,
  type HeadView,
  headView,
  lengthTextOf,
  type ProblemView,
  partFacts,
  problemViews,
} from './head-view.js';
import type { LengthText } from './length-text.js';
import { fixed, minuteCells, type SpreadText, spreadPhrase, spreadText, timePhrase } from './number-text.js';
import type { SetUpSheetData, SheetProof } from './set-up-sheet-data.js';
import type { Spread } from './spread.js';

/** A set-up sheet in words, ready to be set. */
export interface SetUpSheetView {
  readonly head: HeadView;
  readonly operation: string;
  readonly job: readonly Fact[];
  readonly setUp: readonly Fact[];
  readonly units: { readonly length: string; readonly feed: string; readonly ra: string };
  readonly drawing: DrawingSvg & { readonly alt: string };
  readonly datum: string;
  readonly holes: readonly {
    readonly id: string;
    readonly x: string;
    readonly y: string;
    readonly diameter: string;
    readonly features: string;
    readonly start: string;
  }[];
  readonly keepOuts: readonly {
    readonly id: string;
    readonly label: string;
    readonly x: string;
    readonly y: string;
  }[];
  readonly passes: readonly {
    readonly pass: string;
    readonly level: string;
    readonly register: string;
    readonly offset: SpreadText;
    readonly gap: SpreadText;
    readonly feed: SpreadText;
    readonly ra: SpreadText;
    readonly burn: SpreadText;
  }[];
  readonly work: readonly { readonly isTouch: boolean; readonly says: string; readonly min: string }[];
  readonly touchCount: string;
  readonly slugs: readonly {
    readonly feature: string;
    readonly piece: string;
    readonly mass: SpreadText;
    readonly handling: string;
    readonly tab: string;
  }[];
  readonly program: readonly Fact[];
  readonly proof: ProofView;
  readonly cautions: readonly string[];
  readonly problems: readonly ProblemView[];
}

interface ProofView {
  readonly verdict: string;
  readonly state: 'passed' | 'failed' | 'not run';
  readonly facts: readonly Fact[];
  readonly says: readonly string[];
}

/** Size of the set-up drawing, mm on paper: the text width of the page. */
const PICTURE = { widthMm: 178, maxHeightMm: 122 };

export function setUpSheetView(data: SetUpSheetData): SetUpSheetView {
  const text = lengthTextOf(data);
  const { operation, program, plate } = data;
  const touches = data.work.filter((s) => s.kind === 'touch').length;
  const programFacts: Fact[] = [{ label: 'File', value: program.fileName }];
  if (program.lines !== undefined) programFacts.push({ label: 'Lines', value: fixed(program.lines, 0) });
  programFacts.push({ label: 'SHA-256', value: program.sha256.replace(/(.{8})(?=.)/g, '$1 ') });
  return {
    head: headView('Set-up sheet', data),
    operation: `${operation.number}  ${operation.title}`,
    job: [...partFacts(data.part, text), { label: 'Quantity', value: fixed(data.quantity, 0) }],
    setUp: setUpFacts(data, text),
    units: { length: text.unit, feed: text.feedUnit, ra: text.raUnit },
    drawing: {
      ...drawingSvg({ ...data.drawing, plate: data.drawing.plate ?? plate }, text, PICTURE),
      alt: `Plate and clamping for operation ${operation.number}: ${data.startHoles.length} start holes, ${data.slugs.length} loose pieces`,
    },
    datum: data.datum,
    holes: data.startHoles.map((h) => ({
      id: h.id,
      x: text.exact(h.at.x),
      y: text.exact(h.at.y),
      diameter: h.fromEdge ? '–' : text.size(h.diameterMm),
      features: h.features.join(', '),
      start: h.fromEdge ? 'from the plate edge, no hole' : 'drilled hole',
    })),
    keepOuts: (data.drawing.keepOuts ?? []).map((k) => ({
      id: k.id,
      label: k.label,
      x: `${text.exact(k.box.minX)} to ${text.exact(k.box.maxX)}`,
      y: `${text.exact(k.box.minY)} to ${text.exact(k.box.maxY)}`,
    })),
    passes: data.passes.map((p) => ({
      pass: String(p.pass),
      level: `${p.level}  ${p.levelName}`,
      register: String(p.register),
      offset: text.offsetCells(p.offsetMm),
      gap: text.offsetCells(p.gapMm),
      feed: text.feedCells(p.feedMmPerMin),
      ra: text.raCells(p.raUm),
      burn: minuteCells(p.burnMin),
    })),
    work: data.work.map((s) => ({
      isTouch: s.kind === 'touch',
      says: s.says,
      min: s.min === undefined ? '' : timePhrase(s.min),
    })),
    touchCount: touches === 1 ? '1 attended moment' : `${touches} attended moments`,
    slugs: data.slugs.map((s) => ({
      feature: s.feature,
      piece: s.piece,
      mass: massCells(s.massG),
      handling: s.handling,
      tab: s.tabMm === null ? '–' : text.size(s.tabMm.value),
    })),
    program: programFacts,
    proof: proofView(data.proof, data.part.toleranceMm, text),
    cautions: data.cautions,
    problems: problemViews(data.problems ?? [], text),
  };
}

function setUpFacts(data: SetUpSheetData, text: LengthText): Fact[] {
  const { machine, wire, operation, plate } = data;
  const kind = wire.kind === undefined ? '' : `, ${wire.kind}`;
  const facts: Fact[] = [
    { label: 'Machine', value: machine.name === undefined ? machine.id : `${machine.id}  ${machine.name}` },
    { label: 'Wire', value: `${wire.id}  Ø ${text.sizeWithUnit(wire.diameterMm)}${kind}` },
    {
      label: 'Plate',
      value: `${text.size(plate.maxX - plate.minX)} × ${text.size(plate.maxY - plate.minY)} ${text.unit}, ${data.stack === 1 ? '1 plate' : `${data.stack} plates in a stack`}`,
    },
    { label: 'Burn height', value: text.sizeWithUnit(data.burnHeightMm) },
    { label: 'Runs', value: fixed(operation.runs, 0) },
    { label: 'Machine alone, per run', value: timePhrase(operation.machineMin) },
    { label: 'Attended, per run', value: timePhrase(operation.attendedMin) },
  ];
  if (operation.unattendedMin !== undefined)
    facts.push({ label: 'Unattended', value: timePhrase(operation.unattendedMin) });
  if (wire.useM !== undefined) facts.push({ label: 'Wire used', value: spreadPhrase(wire.useM, 'm', 0) });
  if (wire.useKg !== undefined) facts.push({ label: 'Wire mass', value: spreadPhrase(wire.useKg, 'kg', 2) });
  return facts;
}

/** Grams: no decimals from 100 g on, one below, two under 1 g. */
function massCells(g: Spread): SpreadText {
  return spreadText(g, g.value >= 100 ? 0 : g.value >= 1 ? 1 : 2);
}

const VERDICTS = { passed: 'Proven', failed: 'Proof failed: do not run', 'not run': 'Not proven' } as const;

function proofView(proof: SheetProof, toleranceMm: number, text: LengthText): ProofView {
  const facts: Fact[] = [];
  const at = (p: Point | null | undefined): string =>
    p === undefined || p === null ? '' : ` at (${text.exact(p.x)}, ${text.exact(p.y)})`;
  if (proof.largestUndercutMm !== undefined) {
    facts.push({
      label: 'Cut into, at most',
      value: `${text.exact(proof.largestUndercutMm)} ${text.unit}${at(proof.undercutAt)}`,
    });
  }
  if (proof.largestRestMm !== undefined) {
    facts.push({
      label: 'Left on, at most',
      value: `${text.exact(proof.largestRestMm)} ${text.unit}${at(proof.restAt)}`,
    });
  }
  facts.push({ label: 'Allowed', value: `±${text.sizeWithUnit(toleranceMm)}` });
  return { verdict: VERDICTS[proof.verdict], state: proof.verdict, facts, says: proof.says };
}
