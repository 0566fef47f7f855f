import { lengthMm } from '@gapwright/geometry';
import type { ProvenProgram } from '@gapwright/job';
import { type SetUpSheetData, sure, type WorkStep } from '@gapwright/papers';
import type { WireOperation } from '@gapwright/planning';
import { cautionById } from '@gapwright/process';
import { type PaperContext, paperHead, paperPart } from './context.js';
import { drawingOf } from './drawing.js';

/** Features named one by one in a line of the order of work; more are counted. */
const MOST_NAMED = 6;

export function setUpSheetData(
  context: PaperContext,
  operation: WireOperation,
  program: ProvenProgram,
  sha256: string,
): SetUpSheetData {
  const { inputs, plan, run } = context;
  const machine = inputs.book.wireMachines.find((m) => m.id === operation.machineId);
  const wire = inputs.book.wires.find((w) => w.id === operation.wireId);
  const { proof } = program;
  const undercut = proof.features.reduce((a, f) => (f.undercutMm > a.undercutMm ? f : a), proof.features[0]!);
  const rest = proof.features.reduce((a, f) => (f.restMm > a.restMm ? f : a), proof.features[0]!);
  return {
    ...paperHead(context),
    part: paperPart(context),
    quantity: plan.request.quantity,
    operation: {
      number: operation.number,
      title: operation.title,
      runs: operation.runs,
      machineMin: operation.machineMin,
      attendedMin: operation.attendedMin,
      unattendedMin: operation.unattendedMin,
    },
    machine: { id: operation.machineId, ...(machine === undefined ? {} : { name: machine.name }) },
    wire: {
      id: operation.wireId,
      diameterMm: operation.wireDiameterMm,
      ...(wire === undefined ? {} : { kind: wire.kind }),
      useM: operation.wireUseM,
      useKg: operation.wireUseKg,
    },
    stack: operation.stack,
    burnHeightMm: operation.burnHeightMm,
    plate: operation.plate,
    datum: 'Zero is the zero of the drawing (cross in the picture)',
    drawing: drawingOf(plan, operation),
    startHoles: operation.startHoles,
    passes: operation.passes,
    work: orderOfWork(operation),
    slugs: operation.slugs,
    program: { fileName: program.fileName, sha256, lines: program.text.trimEnd().split('\n').length },
    proof: {
      verdict: proof.verdict === 'pass' ? 'passed' : 'failed',
      largestUndercutMm: proof.maxUndercutMm,
      ...(undercut.undercutAt === null ? {} : { undercutAt: undercut.undercutAt }),
      largestRestMm: proof.maxRestMm,
      ...(rest.restAt === null ? {} : { restAt: rest.restAt }),
      says: proof.findings.map((f) => f.message),
    },
    cautions: operation.cautions.map(cautionText),
    problems: run.problems.filter((p) => p.severity === 'warn'),
  };
}

/** The program's steps in words: burning stretches between the moments that need a person. */
function orderOfWork(operation: WireOperation): WorkStep[] {
  const touch = (kind: 'set-up' | 'unload'): WorkStep[] =>
    operation.touches.filter((t) => t.kind === kind).map((t) => ({ kind: 'touch', says: t.says, min: t.min }));
  const out: WorkStep[] = touch('set-up');
  let features = new Set<string>();
  let passes = new Set<number>();
  let minutes = 0;
  const flush = (): void => {
    if (features.size === 0) return;
    out.push({ kind: 'burn', says: `${passWords([...passes])} of ${featureWords([...features])}`, min: sure(minutes) });
    features = new Set();
    passes = new Set();
    minutes = 0;
  };
  for (const step of operation.steps) {
    if (step.kind === 'stop') {
      flush();
      out.push({ kind: 'touch', says: step.reason });
    } else if (step.kind === 'cut') {
      features.add(step.feature);
      passes.add(step.pass);
      const segments = [...step.leadIn, ...step.path, ...step.leadOut];
      minutes += lengthMm({ segments, isClosed: false }) / step.feedMmPerMin;
    }
  }
  flush();
  return [...out, ...touch('unload')];
}

function passWords(passes: readonly number[]): string {
  const sorted = [...passes].sort((a, b) => a - b);
  if (sorted.length === 1) return sorted[0] === 1 ? 'Rough cut' : `Pass ${sorted[0]}`;
  return `Passes ${sorted[0]} to ${sorted.at(-1)}`;
}

function featureWords(features: readonly string[]): string {
  if (features.length <= MOST_NAMED) return features.join(', ');
  return `${features[0]} to ${features.at(-1)} (${features.length} features)`;
}

function cautionText(id: string): string {
  const caution = cautionById(id);
  return caution === undefined ? id : `${caution.title}. ${caution.text}`;
}
