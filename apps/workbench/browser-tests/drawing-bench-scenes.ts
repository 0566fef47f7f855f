import type { Box } from '@gapwright/geometry';
import type { PackedPaths, Scene, SceneMark } from '@gapwright/job';
import { STRIDE } from '../src/drawing/segments.js';

/** Collects packed paths. */
class Packer {
  private readonly values: number[] = [];
  private readonly starts: number[] = [0];
  private readonly closed: number[] = [];

  line(fx: number, fy: number, tx: number, ty: number): void {
    this.values.push(fx, fy, tx, ty, 0, 0, 0, 0);
  }

  arc(cx: number, cy: number, r: number, startRad: number, sweepRad: number): void {
    const end = startRad + sweepRad;
    this.values.push(
      cx + r * Math.cos(startRad),
      cy + r * Math.sin(startRad),
      cx + r * Math.cos(end),
      cy + r * Math.sin(end),
      cx,
      cy,
      r,
      sweepRad,
    );
  }

  end(isClosed: boolean): void {
    this.starts.push(this.values.length / STRIDE);
    this.closed.push(isClosed ? 1 : 0);
  }

  done(): PackedPaths {
    return {
      values: Float64Array.from(this.values),
      starts: Uint32Array.from(this.starts),
      closed: Uint8Array.from(this.closed),
    };
  }
}

/** A toothed ring: per tooth two flanks, a tip arc and a root arc. */
function ring(pack: Packer, cx: number, cy: number, rootMm: number, tipMm: number, teeth: number): void {
  const pitch = (2 * Math.PI) / teeth;
  const at = (r: number, a: number): [number, number] => [cx + r * Math.cos(a), cy + r * Math.sin(a)];
  for (let i = 0; i < teeth; i++) {
    const a = i * pitch;
    pack.arc(cx, cy, rootMm, a, pitch * 0.3);
    pack.line(...at(rootMm, a + pitch * 0.3), ...at(tipMm, a + pitch * 0.4));
    pack.arc(cx, cy, tipMm, a + pitch * 0.4, pitch * 0.3);
    pack.line(...at(tipMm, a + pitch * 0.7), ...at(rootMm, a + pitch));
  }
  pack.end(true);
}

/** A grid of toothed rings with about `segments` segments in all. */
export function gridScene(segments: number): Scene {
  const teeth = 25;
  const perRing = teeth * 4;
  const rings = Math.max(1, Math.round(segments / perRing));
  const columns = Math.ceil(Math.sqrt(rings * 1.78));
  const pitchMm = 12;
  const pack = new Packer();
  const names: string[] = [];
  const marks: SceneMark[] = [];
  for (let i = 0; i < rings; i++) {
    const x = (i % columns) * pitchMm;
    const y = Math.floor(i / columns) * pitchMm;
    ring(pack, x, y, 4.2, 5, teeth);
    names.push(`F${i + 1}`);
    if (i < 2000) marks.push({ kind: 'feature', label: `F${i + 1}`, feature: `F${i + 1}`, at: { x, y } });
  }
  const rows = Math.ceil(rings / columns);
  const boxMm = { minX: -6, minY: -6, maxX: (columns - 1) * pitchMm + 6, maxY: (rows - 1) * pitchMm + 6 };
  return {
    boxMm,
    layers: [{ kind: 'part', paths: pack.done(), names }],
    marks,
    bands: [],
    walks: [],
  };
}

/** A plate with an outline, a toothed opening, a slot and round holes; three passes, band, program walk and problems. */
export function plateScene(): Scene {
  const part = new Packer();
  const names: string[] = [];
  const outline = (pack: Packer, grow: number): void => {
    const [x, y, r] = [60 + grow, 35 + grow, 8 + grow];
    pack.line(-x + r, -y, x - r, -y);
    pack.arc(x - r, -y + r, r, -Math.PI / 2, Math.PI / 2);
    pack.line(x, -y + r, x, y - r);
    pack.arc(x - r, y - r, r, 0, Math.PI / 2);
    pack.line(x - r, y, -x + r, y);
    pack.arc(-x + r, y - r, r, Math.PI / 2, Math.PI / 2);
    pack.line(-x, y - r, -x, -y + r);
    pack.arc(-x + r, -y + r, r, Math.PI, Math.PI / 2);
    pack.end(true);
  };
  const slot = (pack: Packer, shrink: number): void => {
    const r = 4 - shrink;
    pack.line(28, -20 - r, 48, -20 - r);
    pack.arc(48, -20, r, -Math.PI / 2, Math.PI);
    pack.line(48, -20 + r, 28, -20 + r);
    pack.arc(28, -20, r, Math.PI / 2, Math.PI);
    pack.end(true);
  };
  outline(part, 0);
  ring(part, -15, 0, 16, 20, 12);
  slot(part, 0);
  names.push('F1', 'F2', 'F3');
  for (let i = 0; i < 4; i++) {
    part.arc(42, 8 + i * 6, 1.5, 0, Math.PI);
    part.arc(42, 8 + i * 6, 1.5, Math.PI, Math.PI);
    part.end(true);
    names.push(`F${4 + i}`);
  }
  const reference = new Packer();
  reference.line(-70, 0, 70, 0);
  reference.end(false);
  reference.line(-15, -45, -15, 45);
  reference.end(false);
  const layers: Scene['layers'][number][] = [
    { kind: 'reference', paths: reference.done(), names: ['CENTRE', 'CENTRE'] },
    { kind: 'part', paths: part.done(), names },
  ];
  for (const [pass, offset] of [
    [1, 0.182],
    [2, 0.146],
    [3, 0.131],
  ] as const) {
    const pack = new Packer();
    outline(pack, offset);
    ring(pack, -15, 0, 16 - offset, 20 - offset, 12);
    slot(pack, offset);
    layers.push({ kind: 'pass', pass, operation: 1, paths: pack.done(), names: ['F1', 'F2', 'F3'] });
  }
  const leads = new Packer();
  leads.line(-15, 0, 1.2, 0);
  leads.end(false);
  leads.line(38, -20, 38, -16.2);
  leads.end(false);
  leads.line(75, 0, 60.2, 0);
  leads.end(false);
  layers.push({ kind: 'lead-in', pass: 1, operation: 1, paths: leads.done(), names: ['F2', 'F3', 'F1'] });
  const open = new Packer();
  open.line(-52, -28, -40, -28);
  open.line(-40, -28, -40, -24);
  open.end(false);
  layers.push({ kind: 'open end', paths: open.done(), names: ['O1'] });
  const plate: Box = { minX: -80, minY: -50, maxX: 80, maxY: 50 };
  return {
    boxMm: { minX: -75, minY: -45, maxX: 75, maxY: 45 },
    layers,
    marks: plateMarks(plate),
    bands: [bandOf(part.done(), 0, 'F1', 1), bandOf(part.done(), 1, 'F2', 2), bandOf(part.done(), 2, 'F3', 3)],
    walks: [walkOf(1)],
  };
}

function plateMarks(plate: Box): SceneMark[] {
  return [
    { kind: 'plate', label: 'plate 160 × 100 × 30', box: plate },
    { kind: 'keep-out', label: 'clamp 1', box: { minX: -80, minY: -50, maxX: -66, maxY: -30 } },
    { kind: 'keep-out', label: 'clamp 2', box: { minX: 66, minY: 30, maxX: 80, maxY: 50 } },
    { kind: 'datum', label: 'A', at: { x: -80, y: -50 } },
    { kind: 'start hole', label: 'H1', at: { x: -15, y: 0 }, diameterMm: 3, features: ['F2'], fromEdge: false },
    { kind: 'start hole', label: 'H2', at: { x: 38, y: -20 }, diameterMm: 1.5, features: ['F3'], fromEdge: false },
    { kind: 'start hole', label: 'E1', at: { x: 80, y: 0 }, diameterMm: 0, features: ['F1'], fromEdge: true },
    { kind: 'tab', label: 'tab F1', feature: 'F1', from: { x: 60, y: -4 }, to: { x: 60, y: 4 } },
    { kind: 'tab', label: 'tab F2', feature: 'F2', from: { x: -35.2, y: -1.5 }, to: { x: -35.2, y: 1.5 } },
    ...['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'F7'].map(
      (feature, i): SceneMark => ({
        kind: 'feature',
        label: feature,
        feature,
        at: [
          { x: -30, y: 35 },
          { x: -15, y: 20 },
          { x: 38, y: -16 },
          { x: 43.5, y: 8 },
          { x: 43.5, y: 14 },
          { x: 43.5, y: 20 },
          { x: 43.5, y: 26 },
        ][i]!,
      }),
    ),
    {
      kind: 'problem',
      label: 'corner too tight',
      at: { x: 1.2, y: 0 },
      code: 'WIRE-RADIUS-TOO-SMALL',
      severity: 'stop',
    },
    { kind: 'problem', label: 'open end', at: { x: -40, y: -24 }, code: 'DXF-OPEN-END', severity: 'warn' },
    { kind: 'problem', label: 'joined', at: { x: 48, y: -24 }, code: 'DXF-GAP-CLOSED', severity: 'info' },
  ];
}

function bandOf(paths: PackedPaths, path: number, feature: string, wave: number): Scene['bands'][number] {
  const samples: number[] = [];
  for (let s = paths.starts[path]!; s < paths.starts[path + 1]!; s++) {
    const [fx, fy, tx, ty, cx, cy, r, sweep] = [...paths.values.subarray(s * STRIDE, s * STRIDE + STRIDE)] as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    for (let i = 0; i < 24; i++) {
      const t = i / 24;
      const a = Math.atan2(fy - cy, fx - cx) + sweep * t;
      const x = r === 0 ? fx + (tx - fx) * t : cx + r * Math.cos(a);
      const y = r === 0 ? fy + (ty - fy) * t : cy + r * Math.sin(a);
      samples.push(x, y, 0.0022 * Math.sin(wave * 0.11 * x) * Math.cos(0.07 * y) + 0.0008 * Math.sin(samples.length));
    }
  }
  return { operation: 1, feature, samples: Float64Array.from(samples), isClosed: true };
}

/** A program of `turns` times round a toothed ring, each with a lead without cutting. */
function walkOf(turns: number, teeth = 12): Scene['walks'][number] {
  const pack = new Packer();
  const [endMin, cuts, lines, halfKerf]: [number[], number[], number[], number[]] = [[], [], [], []];
  let minute = 0;
  const move = (takesMin: number, isCut: boolean, half: number): void => {
    minute += takesMin;
    pack.end(false);
    endMin.push(minute);
    cuts.push(isCut ? 1 : 0);
    lines.push(10 + lines.length);
    halfKerf.push(half);
  };
  for (let turn = 0; turn < turns; turn++) {
    pack.line(-15, 0, 0.8, 0);
    move(3, true, 0.182);
    const pitch = (2 * Math.PI) / teeth;
    const at = (r: number, a: number): [number, number] => [-15 + r * Math.cos(a), r * Math.sin(a)];
    const [root, tip] = [15.818, 19.818];
    for (let i = 0; i < teeth; i++) {
      const a = i * pitch;
      pack.arc(-15, 0, root, a, pitch * 0.3);
      move(1.6, true, 0.182);
      pack.line(...at(root, a + pitch * 0.3), ...at(tip, a + pitch * 0.4));
      move(1.4, true, 0.182);
      pack.arc(-15, 0, tip, a + pitch * 0.4, pitch * 0.3);
      move(2, true, 0.182);
      pack.line(...at(tip, a + pitch * 0.7), ...at(root, a + pitch));
      move(1.4, true, 0.182);
    }
    pack.line(0.8, 0, 38, -20);
    move(0, false, 0.182);
  }
  return {
    operation: 1,
    paths: pack.done(),
    endMin: Float64Array.from(endMin),
    cuts: Uint8Array.from(cuts),
    lines: Uint32Array.from(lines),
    halfKerfMm: Float32Array.from(halfKerf),
    stops: [
      { atMin: 0, line: 10, says: 'Thread the wire at H1', at: { x: -15, y: 0 } },
      { atMin: minute * 0.6, line: 40, says: 'Take out the slug of F2', at: { x: -15, y: 0 } },
    ],
  };
}

/** A scene whose program has about `moves` moves. */
export function walkScene(moves: number): Scene {
  return { ...plateScene(), walks: [walkOf(Math.max(1, Math.round(moves / 1000)), 250)] };
}
