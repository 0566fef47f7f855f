import { createHash } from 'node:crypto';
import type { ProvenProgram } from '@gapwright/job';
import type { Drawing, SetUpSheetData, SheetSlug } from '@gapwright/papers';
import type { WireOperation } from '@gapwright/planning';
import { cautionById } from '@gapwright/process';
import { type PaperContext, paperHead, paperPart } from './context.js';
import { featureWords, orderOfWork } from './order-of-work.js';

export function setUpSheetData(
  context: PaperContext,
  operation: WireOperation,
  program: ProvenProgram,
  drawing: Drawing,
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
    datum: 'the zero of the drawing (cross in the picture)',
    drawing,
    startHoles: operation.startHoles,
    passes: operation.passes,
    work: orderOfWork(operation),
    slugs: groupedSlugs(operation),
    program: {
      fileName: program.fileName,
      sha256: sha256Of(program.text),
      lines: program.text.trimEnd().split('\n').length,
    },
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

/** Slugs of the same mass and handling share a row: a plate with fifty equal openings is one line. */
function groupedSlugs(operation: WireOperation): SheetSlug[] {
  const groups = new Map<string, WireOperation['slugs'][number][]>();
  for (const slug of operation.slugs) {
    const key = `${slug.piece} ${slug.handling} ${slug.massG.value.toPrecision(6)} ${slug.tabMm?.value.toPrecision(6)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [slug]);
    else group.push(slug);
  }
  return [...groups.values()].map((group) => ({ ...group[0]!, feature: featureWords(group.map((s) => s.feature)) }));
}

function cautionText(id: string): string {
  const caution = cautionById(id);
  return caution === undefined ? id : `${caution.title}. ${caution.text}`;
}

function sha256Of(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
