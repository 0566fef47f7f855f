import type { Problem, Result } from '@gapwright/base';
import { BinaryTags, isBinaryDxf } from './binary-tags.js';
import { checkBlocks } from './check-blocks.js';
import type { DxfBlock, DxfDrawing, DxfEntity, DxfLayer, SkippedEntities } from './drawing.js';
import { refuseForeign } from './foreign.js';
import { readLayer } from './layer.js';
import { Notes } from './notes.js';
import { readBlocks } from './read-blocks.js';
import { EntityReader } from './read-entities.js';
import { type DxfHeader, readHeader } from './read-header.js';
import { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';
import type { TagSource } from './tag-source.js';
import { printable, TextTags } from './text-tags.js';

export interface ReadDxfOptions {
  /** Name for messages. */
  readonly fileName?: string;
}

/**
 * Reads a DXF file, text or binary, of any version from R9 to 2018.
 *
 * Strict: a number that is not wholly a number, a missing value, a file that is cut off or a block that is missing
 * stops the reading with one problem that says where and what to do. Harmless faults and entities that are not
 * contours are listed. Never throws for any bytes.
 */
export function readDxf(bytes: Uint8Array, options: ReadDxfOptions = {}): Result<DxfDrawing> {
  const notes = new Notes();
  const fileName = options.fileName ?? null;
  try {
    const drawing = new DxfFile(bytes, fileName, notes).read();
    return { value: drawing, problems: notes.problems() };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const stop: Problem = error.problem;
    const file = fileName ?? undefined;
    const at = stop.at ?? (file === undefined ? null : { file });
    return { value: null, problems: [{ ...stop, at }, ...notes.problems()] };
  }
}

class DxfFile {
  private readonly tags: TagSource;
  private readonly notes: Notes;
  private readonly reader: EntityReader;
  private readonly fileName: string | null;
  private readonly isBinary: boolean;
  private readonly header: DxfHeader = { version: null, codePage: null, insertUnits: null, measurement: null };
  private readonly layers: DxfLayer[] = [];
  private blocks: DxfBlock[] = [];
  private entities: DxfEntity[] = [];
  private skipped: SkippedEntities[] = [];
  private readonly seen = new Set<string>();
  private readonly size: number;

  constructor(bytes: Uint8Array, fileName: string | null, notes: Notes) {
    this.isBinary = isBinaryDxf(bytes);
    if (!this.isBinary) refuseForeign(bytes);
    this.tags = this.isBinary ? new BinaryTags(bytes, fileName) : new TextTags(bytes, fileName);
    this.notes = notes;
    this.fileName = fileName;
    this.reader = new EntityReader(this.tags, notes);
    this.size = bytes.length;
  }

  read(): DxfDrawing {
    const { tags } = this;
    this.enter();
    while (tags.word() !== 'EOF') {
      this.readSection();
      this.step('after a section');
    }
    if (!this.seen.has('ENTITIES')) {
      this.notes.add(
        'DXF-NO-ENTITIES',
        'warn',
        'The file has no ENTITIES section, so nothing is drawn in it',
        'Export the drawing again, not only its blocks or settings',
        tags.place(tags.position),
      );
    }
    const { fileName, isBinary, header, layers, blocks, entities, skipped } = this;
    const drawing = { fileName, isBinary, ...header, layers, blocks, entities, skipped };
    checkBlocks(drawing, tags);
    return drawing;
  }

  /** Moves to the first tag, which tells whether this is a DXF at all. */
  private enter(): void {
    const { tags } = this;
    try {
      do if (!tags.next()) break;
      while (tags.code === 999);
      if (tags.code === 0 && (tags.word() === 'SECTION' || tags.word() === 'EOF')) return;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
    }
    throw new Refusal(
      'DXF-NOT-A-DXF',
      'This is not a DXF file: it does not start with a section',
      'Choose a DXF file, text or binary, as drawing programs export it',
      tags.place(tags.position),
    );
  }

  private readSection(): void {
    const { tags } = this;
    const start = tags.position;
    if (tags.code !== 0 || tags.word() !== 'SECTION') {
      throw new Refusal(
        'DXF-BAD-STRUCTURE',
        `${tags.where(start)} holds "${printable(tags.word().slice(0, 40))}" where a new SECTION or the closing EOF should be`,
        'Lines were lost or moved; export the drawing again',
        tags.place(start),
      );
    }
    if (this.step('after SECTION') !== 2) {
      throw new Refusal(
        'DXF-BAD-STRUCTURE',
        `The section that starts at ${tags.where(start)} has no name`,
        'Export the drawing again',
        tags.place(start),
      );
    }
    const name = printable(tags.word());
    if (this.seen.has(name)) {
      throw new Refusal(
        'DXF-BAD-STRUCTURE',
        `The section ${name} occurs a second time at ${tags.where(start)}`,
        'Two files may have been joined; export the drawing again',
        tags.place(start),
      );
    }
    this.seen.add(name);
    if (name === 'HEADER') {
      readHeader(tags, this.header, this.notes);
      this.expectEnd(name);
      return;
    }
    while (this.step(`inside the section ${name}`) !== 0);
    if (name === 'TABLES') this.readTables();
    else if (name === 'BLOCKS') this.blocks = readBlocks(tags, this.reader, this.notes);
    else if (name === 'ENTITIES') {
      const { entities, skipped } = this.reader.readUntil('ENDSEC');
      this.entities = entities;
      this.skipped = skipped;
    } else this.passOver(name);
    this.expectEnd(name);
  }

  private readTables(): void {
    const { tags } = this;
    const record = new DxfRecord(tags);
    for (;;) {
      const word = tags.word();
      if (word === 'ENDSEC' || word === 'SECTION' || word === 'EOF') return;
      record.read(word === 'LAYER');
      const layer = word === 'LAYER' ? readLayer(record) : null;
      if (layer !== null) this.layers.push(layer);
    }
  }

  private passOver(name: string): void {
    const { tags } = this;
    for (;;) {
      if (tags.code === 0) {
        const word = tags.word();
        if (word === 'ENDSEC' || word === 'SECTION' || word === 'EOF') return;
      }
      this.step(`inside the section ${name}`);
    }
  }

  private expectEnd(name: string): void {
    const { tags } = this;
    if (tags.code === 0 && tags.word() === 'ENDSEC') return;
    throw new Refusal(
      'DXF-BAD-STRUCTURE',
      `The section ${name} is not closed by ENDSEC before ${tags.where(tags.position)}`,
      'Lines were lost; export the drawing again',
      tags.place(tags.position),
    );
  }

  /** Moves on to the next tag that is no comment and returns its code; the data must not end here. */
  private step(where: string): number {
    const { tags } = this;
    do {
      if (tags.next()) continue;
      const reached = this.isBinary ? `byte ${this.size}` : tags.where(tags.position);
      throw new Refusal(
        'DXF-TRUNCATED',
        `The file ends at ${reached}, ${where}, without the closing EOF: it is cut off`,
        'Export or send the drawing again',
        tags.place(tags.position),
      );
    } while (tags.code === 999);
    return tags.code;
  }
}
