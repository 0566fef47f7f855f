import { outsideCheck } from '@gapwright/base/testing';
import type { IArcEntity, ICircleEntity, IEntity, ILineEntity, ILwpolylineEntity } from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import type { DxfEntity } from './dxf/drawing.js';
import { readDxf } from './dxf/read-dxf.js';
import { fixtureBytes, fixtureFiles } from './testing/fixtures.js';
import { parseWithOther } from './testing/other-parser.js';

/** Numbers of an entity that both readers give; null for kinds not compared. */
function ourNumbers(e: DxfEntity): number[] | null {
  switch (e.kind) {
    case 'line':
      return [e.from.x, e.from.y, e.to.x, e.to.y];
    case 'circle':
      return [e.centre.x, e.centre.y, e.radius];
    case 'arc':
      return [e.centre.x, e.centre.y, e.radius, Math.sin(e.startRad), Math.cos(e.startRad)];
    case 'polyline':
      return e.vertices.flatMap((v) => [v.x, v.y, v.bulge]);
    default:
      return null;
  }
}

function theirNumbers(e: IEntity): number[] | null {
  switch (e.type) {
    case 'LINE': {
      const [from, to] = (e as ILineEntity).vertices;
      return [from!.x, from!.y, to!.x, to!.y];
    }
    case 'CIRCLE': {
      const { center, radius } = e as ICircleEntity;
      return [center.x, center.y, radius];
    }
    case 'ARC': {
      const { center, radius, startAngle } = e as IArcEntity;
      return [center.x, center.y, radius, Math.sin(startAngle), Math.cos(startAngle)];
    }
    case 'LWPOLYLINE':
      return (e as ILwpolylineEntity).vertices.flatMap((v) => [v.x, v.y, v.bulge ?? 0]);
    default:
      return null;
  }
}

/** Its circles and arcs are drawn from behind; the other reader leaves their coordinates as they are. */
const SEEN_FROM_BEHIND = 'dxf/issue42.dxf';

interface Compared {
  readonly entities: number;
  readonly largest: number;
}

/** Compares entities by handle; files without handles and entities seen from behind are left to the other checks. */
function compare(file: string): Compared {
  const bytes = fixtureBytes(file);
  const ours = readDxf(bytes).value;
  const parsed = ours?.isBinary === true ? null : parseWithOther(Buffer.from(bytes).toString('utf8'));
  if (ours === null || parsed === null) return { entities: 0, largest: 0 };
  const byHandle = new Map(parsed.entities.map((e) => [String(e.handle), e]));
  let entities = 0;
  let largest = 0;
  for (const entity of ours.entities) {
    const other = entity.handle === null ? undefined : byHandle.get(entity.handle);
    if (other === undefined || (other as { extrusionDirectionZ?: number }).extrusionDirectionZ === -1) continue;
    const a = ourNumbers(entity);
    const b = theirNumbers(other);
    if (a === null || b === null) continue;
    expect(a.length).toBe(b.length);
    entities++;
    a.forEach((value, i) => {
      largest = Math.max(largest, Math.abs(value - b[i]!));
    });
  }
  return { entities, largest };
}

describe('sample drawings against dxf-parser', () => {
  it('gives the same numbers for every entity that both read', () => {
    let entities = 0;
    let largest = 0;
    let compared = 0;
    for (const { file } of fixtureFiles()) {
      if (file === SEEN_FROM_BEHIND) continue;
      const found = compare(file);
      if (found.entities === 0) continue;
      compared++;
      entities += found.entities;
      largest = Math.max(largest, found.largest);
    }
    expect(compared).toBeGreaterThan(20);
    expect(entities).toBeGreaterThan(500);
    outsideCheck({
      id: 'dxf-parser-numbers',
      what: `coordinates, radii, bulges and start angles of ${entities} lines, arcs, circles and polylines in ${compared} sample drawings, largest difference`,
      ours: largest,
      theirs: 0,
      unit: 'drawing units',
      allowed: 1e-12,
      why: 'both parse the same text; sines of start angles go through different conversions to radians',
      source: 'dxf-parser 1.1.2 (MIT)',
      standing: 'library',
    });
  });
});
