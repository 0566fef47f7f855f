import type { DxfVertex } from './drawing.js';
import { noteHeight, placeOf, type Taken } from './entity.js';
import type { Notes } from './notes.js';
import { facingOf, NOT_FLAT, SAME_HEIGHT, TILTED } from './plane.js';
import type { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';

/** Bits of group 70 of a POLYLINE. */
const IS_CLOSED = 1;
const IS_SPLINE_FITTED = 4;
const IS_3D = 8;
const IS_MESH = 16 | 32 | 64;

/** Bit of group 70 of a VERTEX that only frames a fitted spline. */
const IS_FRAME = 16;

/** LWPOLYLINE: one record with all vertices. */
export function readLightPolyline(record: DxfRecord, notes: Notes): Taken {
  const flags = record.whole(70, 'flags', 0, 0, 32_767);
  const facing = facingOf(record);
  const vertices: DxfVertex[] = [];
  let x = Number.NaN;
  let y = Number.NaN;
  let bulge = 0;
  let isOpen = false;
  const finish = (): void => {
    if (!isOpen) return;
    if (Number.isNaN(y)) refuseVertex(record, vertices.length);
    vertices.push({ x, y, bulge });
  };
  let hasWidth = false;
  for (let i = 0; i < record.count; i++) {
    const value = record.values[i]!;
    switch (record.codes[i]) {
      case 10:
        finish();
        isOpen = true;
        x = value;
        y = Number.NaN;
        bulge = 0;
        break;
      case 20:
        if (!isOpen || !Number.isNaN(y)) refuseVertex(record, vertices.length);
        y = value;
        break;
      case 42:
        if (!isOpen) refuseVertex(record, vertices.length);
        bulge = value;
        break;
      case 40:
      case 41:
      case 43:
        hasWidth ||= value !== 0;
        break;
    }
  }
  finish();
  const declared = record.optional(90, vertices.length);
  if (declared !== vertices.length) {
    throw new Refusal(
      'DXF-VERTEX-COUNT',
      `${record.label()} announces ${declared} vertices but has ${vertices.length}`,
      'Vertices were lost or added; export the drawing again',
      record.place(),
    );
  }
  if (facing === 'tilted') return { skip: TILTED };
  noteHeight(record, record.optional(38, 0), notes);
  if (hasWidth) noteWidth(record, notes);
  return shape(record, vertices, (flags & IS_CLOSED) !== 0, facing === 'down');
}

/** POLYLINE: a head record, then one VERTEX record each, then SEQEND. */
export class PolylineBuilder {
  private readonly vertices: DxfVertex[] = [];
  private lowest = Number.POSITIVE_INFINITY;
  private highest = Number.NEGATIVE_INFINITY;
  private hasWidth = false;
  private readonly flags: number;
  private readonly isDown: boolean;
  private readonly isTilted: boolean;
  private readonly elevation: number;

  constructor(head: DxfRecord) {
    this.flags = head.whole(70, 'flags', 0, 0, 32_767);
    const facing = this.is3d ? 'up' : facingOf(head);
    this.isDown = facing === 'down';
    this.isTilted = facing === 'tilted';
    this.elevation = head.optional(30, head.optional(38, 0));
    this.hasWidth = head.optional(40, 0) !== 0 || head.optional(41, 0) !== 0;
  }

  addVertex(record: DxfRecord): void {
    if ((this.flags & IS_MESH) !== 0) return;
    const flags = record.whole(70, 'flags', 0, 0, 32_767);
    if ((this.flags & IS_SPLINE_FITTED) !== 0 && (flags & IS_FRAME) !== 0) return;
    const z = record.optional(30, 0);
    this.lowest = Math.min(this.lowest, z);
    this.highest = Math.max(this.highest, z);
    this.hasWidth ||= record.optional(40, 0) !== 0 || record.optional(41, 0) !== 0;
    this.vertices.push({
      x: record.required(10, 'x'),
      y: record.required(20, 'y'),
      bulge: this.is3d ? 0 : record.optional(42, 0),
    });
  }

  /** The finished polyline; `head` is the POLYLINE's own record. */
  finish(head: DxfRecord, notes: Notes): Taken {
    if ((this.flags & IS_MESH) !== 0) return { skip: 'is a mesh; only flat contours can be cut' };
    if (this.isTilted) return { skip: TILTED };
    if (this.is3d && this.highest - this.lowest > SAME_HEIGHT) return { skip: NOT_FLAT };
    if (this.vertices.length > 0) noteHeight(head, this.is3d ? this.lowest : this.elevation, notes);
    if (this.hasWidth) noteWidth(head, notes);
    return shape(head, this.vertices, (this.flags & IS_CLOSED) !== 0, this.isDown);
  }

  private get is3d(): boolean {
    return (this.flags & IS_3D) !== 0;
  }
}

function shape(record: DxfRecord, vertices: DxfVertex[], isClosed: boolean, isDown: boolean): Taken {
  if (vertices.length < 2) return { skip: 'has fewer than two vertices' };
  return {
    kind: 'polyline',
    ...placeOf(record),
    // Seen from behind, x changes sign and left turns become right turns.
    vertices: isDown ? vertices.map((v) => ({ x: -v.x, y: v.y, bulge: -v.bulge })) : vertices,
    isClosed,
  };
}

function noteWidth(record: DxfRecord, notes: Notes): void {
  notes.add(
    'DXF-WIDTH-IGNORED',
    'info',
    `${record.label()} is drawn with a width; its centre line is taken`,
    'Redraw the outline if the edges of the wide line are meant',
    record.place(),
  );
}

function refuseVertex(record: DxfRecord, index: number): never {
  throw new Refusal(
    'DXF-MISSING-VALUE',
    `${record.label()}: vertex ${index + 1} does not have exactly one x and one y`,
    'A line was repeated or lost; export the drawing again',
    record.place(),
  );
}
