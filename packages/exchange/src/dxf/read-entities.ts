import type { DxfEntity, SkippedEntities } from './drawing.js';
import { readArc, readCircle, readEllipse, readInsert, readLine, type Taken } from './entity.js';
import { type Notes, SkipList } from './notes.js';
import { PolylineBuilder, readLightPolyline } from './polyline.js';
import { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';
import { readSpline } from './spline.js';
import type { TagSource } from './tag-source.js';

const NOTE = 'is a note; notes are not cut';
const FILL = 'is a fill or face; draw its outline to cut it';
const ENDLESS = 'is an endless construction line';

/** Why known kinds are not taken; kinds not listed here are unknown. */
const NOT_DRAWN: Readonly<Record<string, string>> = {
  '3DFACE': FILL,
  '3DSOLID': 'is a solid; only flat contours can be cut',
  ACAD_PROXY_ENTITY: 'belongs to another program',
  ACAD_TABLE: NOTE,
  ARC_DIMENSION: NOTE,
  ATTDEF: NOTE,
  ATTRIB: NOTE,
  BODY: 'is a solid; only flat contours can be cut',
  DIMENSION: NOTE,
  HATCH: FILL,
  HELIX: 'is not flat; only flat contours can be cut',
  IMAGE: 'is a picture',
  LARGE_RADIAL_DIMENSION: NOTE,
  LEADER: NOTE,
  MESH: 'is a mesh; only flat contours can be cut',
  MLINE: 'is a multiple line; redraw it as separate lines to cut it',
  MTEXT: NOTE,
  MULTILEADER: NOTE,
  OLE2FRAME: 'is a picture',
  POINT: 'is a single point',
  RAY: ENDLESS,
  REGION: 'is a region; redraw its outline to cut it',
  SHAPE: NOTE,
  SOLID: FILL,
  SURFACE: 'is a surface; only flat contours can be cut',
  TEXT: NOTE,
  TOLERANCE: NOTE,
  TRACE: FILL,
  VIEWPORT: 'is a view of the sheet',
  WIPEOUT: FILL,
  XLINE: ENDLESS,
};

const UNKNOWN = 'is of a kind this reader does not know';

/** What a run of entities gave. */
export interface EntityList {
  readonly entities: DxfEntity[];
  readonly skipped: SkippedEntities[];
}

/** Reads entity records, from the model space or from a block, up to the keyword that ends them. */
export class EntityReader {
  private readonly tags: TagSource;
  private readonly notes: Notes;
  private readonly record: DxfRecord;
  private readonly vertex: DxfRecord;

  constructor(tags: TagSource, notes: Notes) {
    this.tags = tags;
    this.notes = notes;
    this.record = new DxfRecord(tags);
    this.vertex = new DxfRecord(tags);
  }

  /** Starts at the group 0 of the first entity; stops at `endWord` (ENDSEC or ENDBLK) with it as current tag. */
  readUntil(endWord: string): EntityList {
    const entities: DxfEntity[] = [];
    const skipped = new SkipList();
    let isInSequence = false;
    for (;;) {
      const kind = this.tags.word();
      if (kind === endWord) return { entities, skipped: skipped.list() };
      if (kind === 'SEQEND' && isInSequence) {
        isInSequence = false;
        this.record.read(false);
        continue;
      }
      if (isOutOfPlace(kind)) {
        throw new Refusal(
          'DXF-BAD-STRUCTURE',
          `${this.tags.where(this.tags.position)} holds ${kind}, which cannot stand there; ${endWord} is missing or lines were moved`,
          'Export the drawing again',
          this.tags.place(this.tags.position),
        );
      }
      const taken = this.readOne(kind);
      const { record } = this;
      if (kind === 'INSERT' || kind === 'ATTRIB') isInSequence = true;
      if (record.hasEmptyHandle) this.noteEmptyHandle();
      if (record.isInPaperSpace) skip('lies on the paper, not in the model space');
      else if (record.isInvisible) skip('is set to invisible');
      else if ('skip' in taken) skip(taken.skip);
      else entities.push(taken);

      function skip(reason: string): void {
        skipped.add(kind, record.layer, reason, record.handle, record.position);
      }
    }
  }

  private readOne(kind: string): Taken {
    const { record, notes } = this;
    switch (kind) {
      case 'LINE':
        record.read(true);
        return readLine(record, notes);
      case 'ARC':
        record.read(true);
        return readArc(record, notes);
      case 'CIRCLE':
        record.read(true);
        return readCircle(record, notes);
      case 'LWPOLYLINE':
        record.read(true);
        return readLightPolyline(record, notes);
      case 'POLYLINE':
        return this.readPolyline();
      case 'ELLIPSE':
        record.read(true);
        return readEllipse(record, notes);
      case 'SPLINE':
        record.read(true);
        return readSpline(record, notes);
      case 'INSERT':
        record.read(true);
        return readInsert(record);
      default:
        record.read(false);
        return { skip: NOT_DRAWN[kind] ?? UNKNOWN };
    }
  }

  private readPolyline(): Taken {
    const { record, vertex, tags } = this;
    record.read(true);
    const builder = new PolylineBuilder(record);
    while (tags.word() === 'VERTEX') {
      vertex.read(true);
      builder.addVertex(vertex);
    }
    if (tags.word() === 'SEQEND') vertex.read(false);
    else {
      this.notes.add(
        'DXF-NO-SEQEND',
        'warn',
        `The vertices of ${record.label()} are not closed off by SEQEND; those present are taken`,
        'Check that the polyline is whole',
        record.place(),
      );
    }
    return builder.finish(record, this.notes);
  }

  private noteEmptyHandle(): void {
    this.notes.add(
      'DXF-EMPTY-HANDLE',
      'info',
      `${this.record.label()} has an empty handle; it is read without one`,
      'Nothing to do: handles only help to find entities again',
      this.record.place(),
    );
  }
}

/** Words that mark the frame of a file, and parts of entities, where an entity should start. */
function isOutOfPlace(kind: string): boolean {
  switch (kind) {
    case '':
    case 'SECTION':
    case 'ENDSEC':
    case 'EOF':
    case 'BLOCK':
    case 'ENDBLK':
    case 'TABLE':
    case 'ENDTAB':
    case 'VERTEX':
    case 'SEQEND':
      return true;
    default:
      return false;
  }
}
