// Draws the invented demo parts as DXF files into demo/. The files are committed; run again only to change a part.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './build.mjs';

/** A DXF text being written: pairs of group code and value. */
class Dxf {
  entities = [];
  blocks = [];
  constructor(insUnits) {
    this.insUnits = insUnits;
  }
  line(layer, a, b, into = this.entities) {
    into.push([0, 'LINE'], [8, layer], [10, a[0]], [20, a[1]], [11, b[0]], [21, b[1]]);
  }
  circle(layer, c, r, into = this.entities) {
    into.push([0, 'CIRCLE'], [8, layer], [10, c[0]], [20, c[1]], [40, r]);
  }
  arc(layer, c, r, startDeg, endDeg, into = this.entities) {
    into.push([0, 'ARC'], [8, layer], [10, c[0]], [20, c[1]], [40, r], [50, startDeg], [51, endDeg]);
  }
  /** Vertices are [x, y, bulge]. */
  polyline(layer, vertices, into = this.entities) {
    into.push(
      [0, 'LWPOLYLINE'],
      [100, 'AcDbEntity'],
      [8, layer],
      [100, 'AcDbPolyline'],
      [90, vertices.length],
      [70, 1],
    );
    for (const [x, y, bulge = 0] of vertices) {
      into.push([10, x], [20, y]);
      if (bulge !== 0) into.push([42, bulge]);
    }
  }
  /** A chain of cubic Bezier pieces as one B-spline: 3 n + 1 control points. */
  bezierChain(layer, points, into = this.entities) {
    const pieces = (points.length - 1) / 3;
    const knots = [0, 0, 0, 0];
    for (let i = 1; i < pieces; i++) knots.push(i, i, i);
    knots.push(pieces, pieces, pieces, pieces);
    into.push([0, 'SPLINE'], [100, 'AcDbEntity'], [8, layer], [100, 'AcDbSpline'], [70, 8], [71, 3]);
    into.push([72, knots.length], [73, points.length], [74, 0]);
    for (const k of knots) into.push([40, k]);
    for (const [x, y] of points) into.push([10, x], [20, y], [30, 0]);
  }
  block(name, draw) {
    const inside = [];
    draw(inside);
    this.blocks.push([0, 'BLOCK'], [8, '0'], [2, name], [70, 0], [10, 0], [20, 0], [30, 0], [3, name], ...inside, [
      0,
      'ENDBLK',
    ]);
  }
  insert(layer, name, at, { rotationDeg = 0, columns = 1, rows = 1, columnMm = 0, rowMm = 0 } = {}) {
    this.entities.push([0, 'INSERT'], [8, layer], [2, name], [10, at[0]], [20, at[1]], [30, 0], [50, rotationDeg]);
    if (columns * rows > 1) this.entities.push([70, columns], [71, rows], [44, columnMm], [45, rowMm]);
  }
  text(layer, at, height, words) {
    this.entities.push([0, 'TEXT'], [8, layer], [10, at[0]], [20, at[1]], [40, height], [1, words]);
  }
  toString() {
    const layers = [
      ...new Set(
        this.entities
          .concat(this.blocks)
          .filter((p) => p[0] === 8)
          .map((p) => p[1]),
      ),
    ];
    const pairs = [
      [999, 'Invented demo part of the Gapwright project'],
      [0, 'SECTION'],
      [2, 'HEADER'],
      [9, '$ACADVER'],
      [1, 'AC1015'],
      [9, '$INSUNITS'],
      [70, this.insUnits],
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'TABLES'],
      [0, 'TABLE'],
      [2, 'LAYER'],
      [70, layers.length],
      ...layers.flatMap((name) => [
        [0, 'LAYER'],
        [2, name],
        [70, 0],
        [62, 7],
        [6, 'CONTINUOUS'],
      ]),
      [0, 'ENDTAB'],
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'BLOCKS'],
      ...this.blocks,
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'ENTITIES'],
      ...this.entities,
      [0, 'ENDSEC'],
      [0, 'EOF'],
    ];
    const value = (v) => (typeof v === 'number' && !Number.isInteger(v) ? Number(v.toFixed(9)) : v);
    return `${pairs.map(([code, v]) => `${code}\n${value(v)}`).join('\n')}\n`;
  }
}

const rad = Math.PI / 180;
const polar = (r, angle) => [r * Math.cos(angle), r * Math.sin(angle)];
const turn = ([x, y], a) => [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
const mirror = ([x, y]) => [x, -y];
const shift = ([x, y], [dx, dy]) => [x + dx, y + dy];
const bulgeOf = (sweep) => Math.tan(sweep / 4);

/** Root of f between lo and hi by bisection. */
function solve(f, lo, hi) {
  const rising = f(lo) < 0;
  for (let i = 0; i < 200; i++) {
    const mid = (lo + hi) / 2;
    if (f(mid) < 0 === rising) lo = mid;
    else hi = mid;
  }
  return (lo + hi) / 2;
}

/** Involute of a base circle at roll angle t, and its unit tangent (away from the base circle). */
const involute = (rb, t) => [rb * (Math.cos(t) + t * Math.sin(t)), rb * (Math.sin(t) - t * Math.cos(t))];
const involuteSlope = (rb, t) => [rb * t * Math.cos(t), rb * t * Math.sin(t)];

/** Cubic Bezier chain along the involute from roll angle t0 to t1 with exact end tangents of every piece. */
function involuteBezier(rb, t0, t1, pieces, place) {
  const out = [];
  for (let i = 0; i < pieces; i++) {
    const a = t0 + ((t1 - t0) * i) / pieces;
    const b = t0 + ((t1 - t0) * (i + 1)) / pieces;
    const h = (b - a) / 3;
    const [pa, pb] = [involute(rb, a), involute(rb, b)];
    const [da, db] = [involuteSlope(rb, a), involuteSlope(rb, b)];
    if (i === 0) out.push(pa);
    out.push([pa[0] + da[0] * h, pa[1] + da[1] * h], [pb[0] - db[0] * h, pb[1] - db[1] * h], pb);
  }
  return out.map(place);
}

const inv = (a) => Math.tan(a) - a;
const deg = (p, c) => Math.atan2(p[1] - c[1], p[0] - c[0]) / rad;

/** Internal involute spline (30° pressure angle), filleted at the major circle: flanks as splines, the rest as arcs. */
function internalSpline(dxf, layer, { module, teeth, pressureDeg, minorR, majorR, filletR }) {
  const pitchR = (module * teeth) / 2;
  const alpha = pressureDeg * rad;
  const rb = pitchR * Math.cos(alpha);
  // Half angle of the space at the pitch circle is a quarter of the pitch; flanks are mirrored about the space's middle.
  const offset = Math.PI / (2 * teeth) + inv(alpha);
  const rollAt = (r) => Math.sqrt((r / rb) ** 2 - 1);
  const t0 = rollAt(minorR);
  // Fillet: tangent to the flank from inside the space and to the major circle from inside.
  const inward = (t) => {
    const [dx, dy] = involuteSlope(rb, t);
    const n = Math.hypot(dx, dy);
    return [dy / n, -dx / n];
  };
  // The flank below is at angle +offset - inv; the space's middle is at angle 0, below it, so the inside is the right-hand side.
  const centreAt = (t) => {
    const p = involute(rb, t);
    const n = inward(t);
    return [p[0] - n[0] * filletR, p[1] - n[1] * filletR];
  };
  const t1 = solve((t) => Math.hypot(...centreAt(t)) - (majorR - filletR), t0, rollAt(majorR));
  const place = (p) => turn(mirror(p), offset);
  for (let k = 0; k < teeth; k++) {
    const middle = (2 * Math.PI * k) / teeth;
    const upper = (p) => turn(place(p), middle);
    const lower = (p) => turn(mirror(place(p)), middle);
    dxf.bezierChain(layer, involuteBezier(rb, t0, t1, 4, upper));
    dxf.bezierChain(layer, involuteBezier(rb, t0, t1, 4, lower));
    const cu = upper(centreAt(t1));
    const cl = lower(centreAt(t1));
    const touchU = polar(majorR, Math.atan2(cu[1], cu[0]));
    const touchL = polar(majorR, Math.atan2(cl[1], cl[0]));
    dxf.arc(layer, cu, filletR, deg(touchU, cu), deg(upper(involute(rb, t1)), cu));
    dxf.arc(layer, cl, filletR, deg(lower(involute(rb, t1)), cl), deg(touchL, cl));
    dxf.arc(layer, [0, 0], majorR, deg(touchL, [0, 0]), deg(touchU, [0, 0]));
    const next = (p) => turn(mirror(place(p)), middle + (2 * Math.PI) / teeth);
    dxf.arc(layer, [0, 0], minorR, deg(upper(involute(rb, t0)), [0, 0]), deg(next(involute(rb, t0)), [0, 0]));
  }
}

/** External involute gear: flanks as splines, radial run-in below the base circle, root fillets and tip arcs. */
function externalGear(dxf, layer, at, { module, teeth, pressureDeg, phaseDeg = 0 }) {
  const pitchR = (module * teeth) / 2;
  const alpha = pressureDeg * rad;
  const rb = pitchR * Math.cos(alpha);
  const [tipR, rootR, filletR] = [pitchR + module, pitchR - 1.25 * module, 0.38 * module];
  const offset = Math.PI / (2 * teeth) + inv(alpha);
  const tTip = Math.sqrt((tipR / rb) ** 2 - 1);
  // Fillet between the radial line at angle `offset` (a flank extended inwards) and the root circle.
  const run = Math.sqrt((rootR + filletR) ** 2 - filletR ** 2);
  const phase = phaseDeg * rad;
  for (let k = 0; k < teeth; k++) {
    const middle = (2 * Math.PI * k) / teeth + phase;
    const upper = (p) => shift(turn(p, middle), at);
    const lower = (p) => shift(turn(mirror(p), middle), at);
    const flank = (p) => turn(mirror(p), offset);
    dxf.bezierChain(
      layer,
      involuteBezier(rb, 0, tTip, 5, (p) => upper(flank(p))),
    );
    dxf.bezierChain(
      layer,
      involuteBezier(rb, 0, tTip, 5, (p) => lower(flank(p))),
    );
    const tipU = upper(flank(involute(rb, tTip)));
    const tipL = lower(flank(involute(rb, tTip)));
    dxf.arc(layer, at, tipR, deg(tipL, at), deg(tipU, at));
    const foot = turn([run, 0], offset);
    const centre = turn([run, filletR], offset);
    const touch = polar(rootR, Math.atan2(centre[1], centre[0]));
    for (const [side, sign] of [
      [upper, 1],
      [lower, -1],
    ]) {
      dxf.line(layer, side(turn([rb, 0], offset)), side(foot));
      const [c, f, g] = [side(centre), side(foot), side(touch)];
      if (sign > 0) dxf.arc(layer, c, filletR, deg(g, c), deg(f, c));
      else dxf.arc(layer, c, filletR, deg(f, c), deg(g, c));
    }
    const nextTouch = shift(turn(mirror(touch), middle + (2 * Math.PI) / teeth), at);
    dxf.arc(layer, at, rootR, deg(upper(touch), at), deg(nextTouch, at));
  }
}

/** Closed polyline from corner points, each rounded by its own radius. */
function rounded(corners) {
  const out = [];
  const n = corners.length;
  for (let i = 0; i < n; i++) {
    const [px, py] = corners[(i + n - 1) % n];
    const [x, y, r = 0] = corners[i];
    const [qx, qy] = corners[(i + 1) % n];
    if (r === 0) {
      out.push([x, y]);
      continue;
    }
    const [ax, ay, bx, by] = [px - x, py - y, qx - x, qy - y];
    const [la, lb] = [Math.hypot(ax, ay), Math.hypot(bx, by)];
    const between = Math.acos((ax * bx + ay * by) / (la * lb));
    const cut = r / Math.tan(between / 2);
    const left = -ax * by + ay * bx > 0 ? 1 : -1;
    out.push(
      [x + (ax / la) * cut, y + (ay / la) * cut, left * bulgeOf(Math.PI - between)],
      [x + (bx / lb) * cut, y + (by / lb) * cut],
    );
  }
  return out;
}

function couplingSpline() {
  const dxf = new Dxf(4);
  internalSpline(dxf, 'SPLINE', { module: 2, teeth: 16, pressureDeg: 30, minorR: 15, majorR: 17.5, filletR: 0.4 });
  dxf.circle('TURNED', [0, 0], 27.5);
  dxf.text('NOTES', [-27, -33], 2, 'INVENTED - internal spline 16 x 2 x 30 deg, turned outside before hardening');
  return dxf;
}

function rotorPair() {
  const dxf = new Dxf(4);
  const gear = { module: 1.5, teeth: 18, pressureDeg: 20 };
  for (const [at, phaseDeg] of [
    [[0, 0], 0],
    [[34, 0], 10],
  ]) {
    externalGear(dxf, 'ROTOR', at, { ...gear, phaseDeg });
    const [x, y] = at;
    const half = Math.asin(1.5 / 4);
    const flat = 4 * Math.cos(half);
    // Bore 8 H7 with a 3 mm keyway, root corners R0.25.
    dxf.polyline('BORE', [
      [x + flat, y + 1.5],
      [x + 5.55, y + 1.5, -bulgeOf(Math.PI / 2)],
      [x + 5.8, y + 1.25],
      [x + 5.8, y - 1.25, -bulgeOf(Math.PI / 2)],
      [x + 5.55, y - 1.5],
      [x + flat, y - 1.5, -bulgeOf(Math.PI - half)],
      [x - 4, y, -bulgeOf(Math.PI - half)],
    ]);
  }
  return dxf;
}

function swirlerPlate() {
  const dxf = new Dxf(4);
  dxf.circle('PROFILE', [0, 0], 24);
  dxf.circle('PROFILE', [0, 0], 6);
  dxf.block('VANE', (inside) => {
    // A curved slot 1.2 mm wide that swirls outwards: an arc of radius 16 from radius 9 to radius 18 and 38 degrees on.
    const [p, q] = [polar(9, 0), polar(18, 38 * rad)];
    const [mid, half] = [16, 0.6];
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const chord = Math.hypot(dx, dy);
    const up = Math.sqrt(mid ** 2 - (chord / 2) ** 2) / chord;
    const c = [(p[0] + q[0]) / 2 - dy * up, (p[1] + q[1]) / 2 + dx * up];
    const at = (r, a) => [c[0] + r * Math.cos(a), c[1] + r * Math.sin(a)];
    const from = Math.atan2(p[1] - c[1], p[0] - c[0]);
    const to = from + 2 * Math.asin(chord / 2 / mid);
    const sweep = to - from;
    dxf.polyline(
      'PROFILE',
      [
        [...at(mid + half, from), bulgeOf(sweep)],
        [...at(mid + half, to), 1],
        [...at(mid - half, to), -bulgeOf(sweep)],
        [...at(mid - half, from), 1],
      ],
      inside,
    );
  });
  for (let k = 0; k < 8; k++) dxf.insert('PROFILE', 'VANE', [0, 0], { rotationDeg: 45 * k });
  for (let k = 0; k < 4; k++) dxf.circle('PROFILE', polar(21, (22.5 + 90 * k) * rad), 1.25);
  return dxf;
}

/** The blade shape of a connector: body, neck, and a latch window corner of R0.12. */
const bladeShape = [
  [0, 0, 0.3],
  [14, 0, 0.3],
  [14, 1.1, 0.12],
  [19, 1.1, 0.2],
  [19, 3.1, 0.2],
  [14, 3.1, 0.12],
  [14, 4.2, 0.3],
  [8.2, 4.2, 0.2],
  [8.2, 3.2, 0.12],
  [5.8, 3.2, 0.12],
  [5.8, 4.2, 0.2],
  [0, 4.2, 0.3],
];

function bladeDiePlate() {
  const dxf = new Dxf(4);
  dxf.polyline('PLATE', [
    [-20, -18],
    [40, -18],
    [40, 22],
    [-20, 22],
  ]);
  dxf.polyline('OPENING', rounded(bladeShape));
  for (const [x, y] of [
    [-14, -12],
    [34, -12],
    [34, 16],
    [-14, 16],
  ])
    dxf.circle('DOWELS', [x, y], 3);
  return dxf;
}

function bladePunch() {
  const dxf = new Dxf(4);
  const vertices = rounded(bladeShape);
  // Drawn as loose lines and arcs, as a detail copied out of an assembly often is.
  for (let i = 0; i < vertices.length; i++) {
    const [x, y, bulge = 0] = vertices[i];
    const [u, v] = vertices[(i + 1) % vertices.length];
    if (bulge === 0) {
      dxf.line('PUNCH', [x, y], [u, v]);
      continue;
    }
    const along = (1 - bulge * bulge) / (4 * bulge);
    const c = [(x + u) / 2 - (v - y) * along, (y + v) / 2 + (u - x) * along];
    const r = Math.hypot(x - c[0], y - c[1]);
    if (bulge > 0) dxf.arc('PUNCH', c, r, deg([x, y], c), deg([u, v], c));
    else dxf.arc('PUNCH', c, r, deg([u, v], c), deg([x, y], c));
  }
  return dxf;
}

function latticeClip() {
  const dxf = new Dxf(4);
  dxf.polyline(
    'PROFILE',
    rounded([
      [0, 0, 2],
      [34, 0, 2],
      [34, 6, 0.6],
      [40, 6, 0.6],
      [40, 12, 0.6],
      [34, 12, 0.6],
      [34, 18, 2],
      [0, 18, 2],
    ]),
  );
  dxf.block('CELL', (inside) => {
    const corners = [];
    for (let k = 0; k < 6; k++) corners.push([...polar(1.3, (60 * k + 30) * rad), 0.25]);
    dxf.polyline('PROFILE', rounded(corners), inside);
  });
  dxf.insert('PROFILE', 'CELL', [3.5, 3.5], { columns: 10, rows: 3, columnMm: 3, rowMm: 5.5 });
  dxf.insert('PROFILE', 'CELL', [5, 6.25], { columns: 9, rows: 2, columnMm: 3, rowMm: 5.5 });
  return dxf;
}

const parts = {
  'coupling-spline': couplingSpline,
  'rotor-pair': rotorPair,
  'swirler-plate': swirlerPlate,
  'blade-die-plate': bladeDiePlate,
  'blade-punch': bladePunch,
  'lattice-clip': latticeClip,
};
for (const [name, draw] of Object.entries(parts)) {
  mkdirSync(join(root, 'demo', name), { recursive: true });
  writeFileSync(join(root, 'demo', name, `${name}.dxf`), draw().toString());
}
