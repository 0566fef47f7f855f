import { outsideCheck } from '@gapwright/base/testing';
import { type Box, IDENTITY, segmentBox, segmentLengthMm, unionBox } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import type { DxfDrawing, DxfEntity } from './dxf/drawing.js';
import { readDxf } from './dxf/read-dxf.js';
import { expandDrawing } from './profile/expand.js';
import { entityPieces } from './profile/pieces.js';
import { type Expectation, fixtureBytes, fixtureFiles } from './testing/fixtures.js';

/** Curves are fitted this close, in drawing units, for the comparison; the other reader flattens within 1e-4. */
const FIT = 1e-5;

/** Files refused on purpose, with the problem that says why. */
const REFUSED: Readonly<Record<string, string>> = {
  // The second circle has the radius 0.
  'ezdxf/circle_radius_le_0.dxf': 'DXF-BAD-RADIUS',
  // Header variables follow the end of the header, outside any section.
  'ezdxf/recover01.dxf': 'DXF-BAD-STRUCTURE',
};

/** Files in which the other reader drops entities that we keep, and why. */
const MORE_HERE: Readonly<Record<string, string>> = {
  'ezdxf/duplicate_handles.dxf': 'entities whose handle occurs twice',
  'cadquery/rational_spline.dxf': 'a periodic spline given by one period of knots',
  'dxf-parser/arcs-as-splines.dxf': 'splines in a file without a version',
};

/** The other reader's boxes also cover texts placed by blocks. */
const TEXT_IN_BOX = new Set([
  'dxf/supported_entities.dxf',
  'ezdxf/ASCII_R12.dxf',
  'ezdxf/insert_bricscad_level_1.dxf',
  'ezdxf/multi_insert_with_attribs.dxf',
]);

const KINDS: Readonly<Record<DxfEntity['kind'], string>> = {
  line: 'LINE',
  arc: 'ARC',
  circle: 'CIRCLE',
  polyline: 'POLYLINE',
  ellipse: 'ELLIPSE',
  spline: 'SPLINE',
  'fit-spline': 'SPLINE',
  insert: 'INSERT',
};

const plain = (kind: string): string => (kind === 'LWPOLYLINE' ? 'POLYLINE' : kind);

function add(totals: Map<string, number>, kind: string, amount: number): void {
  totals.set(kind, (totals.get(kind) ?? 0) + amount);
}

function counts(drawing: DxfDrawing): Map<string, number> {
  const found = new Map<string, number>();
  for (const e of drawing.entities) add(found, KINDS[e.kind], 1);
  for (const s of drawing.skipped) {
    if (!s.reason.includes('on the paper') && s.kind !== 'ATTRIB') add(found, plain(s.kind), s.count);
  }
  return found;
}

function theirs(record: Readonly<Record<string, number>>): Map<string, number> {
  const found = new Map<string, number>();
  for (const [kind, amount] of Object.entries(record)) add(found, plain(kind), amount);
  return found;
}

/** Largest relative difference of curve lengths by kind, over kinds of which nothing was left out. */
function lengthDifference(drawing: DxfDrawing, expected: Expectation): number {
  const ours = new Map<string, number>();
  for (const e of drawing.entities) {
    if (e.kind === 'insert') continue;
    const { segments } = entityPieces(e, IDENTITY, FIT);
    add(
      ours,
      KINDS[e.kind],
      segments.reduce((sum, s) => sum + segmentLengthMm(s), 0),
    );
  }
  const left = new Set(drawing.skipped.map((s) => plain(s.kind)));
  let largest = 0;
  for (const [kind, length] of theirs(expected.pathLength)) {
    if (left.has(kind)) continue;
    largest = Math.max(largest, Math.abs((ours.get(kind) ?? 0) - length) / length);
  }
  return largest;
}

function drawnBox(drawing: DxfDrawing): Box | null {
  let box: Box | null = null;
  for (const { entity, map } of expandDrawing(drawing, IDENTITY, null).placed) {
    for (const s of entityPieces(entity, map, FIT).segments) {
      box = box === null ? segmentBox(s) : unionBox(box, segmentBox(s));
    }
  }
  return box;
}

const LIBRARY = 'ezdxf 0.18.1 (MIT), values in fixtures/dxf/manifest.json';

describe('sample drawings against an independent reader', () => {
  const files = fixtureFiles();

  it('covers text and binary files of many origins', () => {
    expect(files.length).toBeGreaterThan(70);
  });

  it.each(files)('$file', ({ file, expect: expected }) => {
    const { value, problems } = readDxf(fixtureBytes(file), { fileName: file });
    const refused = REFUSED[file];
    if (refused !== undefined) {
      expect(value).toBeNull();
      expect(problems.filter((p) => p.severity === 'stop').map((p) => p.code)).toEqual([refused]);
      return;
    }
    expect(value, problems[0]?.message).not.toBeNull();
    if (expected === null || value === null) return;

    const ourCounts = counts(value);
    const theirCounts = theirs(expected.entities);
    const kinds = new Set([...ourCounts.keys(), ...theirCounts.keys()]);
    let apart = 0;
    for (const kind of kinds) {
      const more = (ourCounts.get(kind) ?? 0) - (theirCounts.get(kind) ?? 0);
      apart += file in MORE_HERE ? Math.max(0, -more) : Math.abs(more);
    }
    outsideCheck({
      id: `dxf-count-${file}`,
      what: `entities by kind in ${file}, sum of differences${file in MORE_HERE ? ' (none may be missing)' : ''}`,
      ours: apart,
      theirs: 0,
      unit: 'entities',
      allowed: 0,
      why: 'counts are exact',
      source: LIBRARY,
      standing: 'library',
    });
    if (file in MORE_HERE) return;
    if (expected.insunits !== null && value.insertUnits !== null) expect(value.insertUnits).toBe(expected.insunits);

    if (Object.keys(expected.pathLength).length > 0) {
      outsideCheck({
        id: `dxf-length-${file}`,
        what: `curve length by kind in ${file}, largest relative difference`,
        ours: lengthDifference(value, expected),
        theirs: 0,
        unit: '1',
        allowed: 2e-5,
        why: 'the other reader flattens splines and ellipses within 1e-4 and rounds lengths to six decimals',
        source: LIBRARY,
        standing: 'library',
      });
    }
    const box = drawnBox(value);
    const isFlat = value.skipped.every((s) => !s.reason.includes('height z') && !s.reason.includes('tilted'));
    if (box === null || expected.bbox === null || TEXT_IN_BOX.has(file) || !isFlat) return;
    const [low, high] = expected.bbox;
    outsideCheck({
      id: `dxf-box-${file}`,
      what: `extents of ${file} with its blocks placed, largest difference of a side`,
      ours: Math.max(
        Math.abs(box.minX - low[0]!),
        Math.abs(box.minY - low[1]!),
        Math.abs(box.maxX - high[0]!),
        Math.abs(box.maxY - high[1]!),
      ),
      theirs: 0,
      unit: 'drawing units',
      allowed: 1.4e-4 * Math.max(high[0]! - low[0]!, high[1]! - low[1]!) + 1e-6,
      why: 'the other reader takes extents of ellipses from cubic curves that miss them by up to 2.7e-4 of a half axis; six decimals',
      source: LIBRARY,
      standing: 'library',
    });
  });
});
