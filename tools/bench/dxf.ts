import { readDxf } from '@gapwright/exchange';
import library, { type IDxf, type ILwpolylineEntity } from 'dxf-parser';
import { type BenchLine, medianMs } from './bench-line.js';

// The package is one CommonJS function; its types describe the module form, which Node does not load.
const OtherParser = library as unknown as new () => { parseSync(text: string): IDxf | null };

/** One closed polyline with a bulge at every tenth vertex. */
function drawing(vertices: number): string {
  const lines = [
    '0',
    'SECTION',
    '2',
    'ENTITIES',
    '0',
    'LWPOLYLINE',
    '5',
    '2A',
    '8',
    'CUT',
    '90',
    `${vertices}`,
    '70',
    '1',
  ];
  for (let i = 0; i < vertices; i++) {
    const angle = (2 * Math.PI * i) / vertices;
    const radius = 100 + 5 * Math.sin(9 * angle);
    lines.push(' 10', (radius * Math.cos(angle)).toFixed(12), ' 20', (radius * Math.sin(angle)).toFixed(12));
    if (i % 10 === 0) lines.push(' 42', '0.125');
  }
  lines.push('0', 'ENDSEC', '0', 'EOF', '');
  return lines.join('\n');
}

/** Reading speed against dxf-parser, from the same bytes, after comparing every vertex. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const vertices = 100_000;
  const bytes = new TextEncoder().encode(drawing(vertices));
  const readOther = (): IDxf | null => new OtherParser().parseSync(new TextDecoder().decode(bytes));

  const entity = readDxf(bytes).value?.entities[0];
  const other = readOther()?.entities[0] as ILwpolylineEntity | undefined;
  if (entity?.kind !== 'polyline' || other === undefined) throw new Error('one side read no polyline');
  if (entity.vertices.length !== vertices || other.vertices.length !== vertices)
    throw new Error('vertices are missing');
  let largest = 0;
  entity.vertices.forEach((v, i) => {
    const w = other.vertices[i]!;
    largest = Math.max(largest, Math.abs(v.x - w.x), Math.abs(v.y - w.y), Math.abs(v.bulge - (w.bulge ?? 0)));
  });
  if (largest !== 0) throw new Error(`vertices differ by ${largest}`);

  const rounds = quick ? 5 : 15;
  const oursMs = medianMs(() => void readDxf(bytes), rounds);
  const theirsMs = medianMs(() => void readOther(), rounds);
  return [
    {
      name: 'read a DXF drawing, speed',
      ours: oursMs,
      theirs: theirsMs,
      ratio: theirsMs / oursMs,
      unit: 'ms',
      input: `${vertices} vertices in one polyline, ${(bytes.length / 1e6).toFixed(1)} MB of text; dxf-parser 1.1.2`,
      agreement: 'all vertices and bulges equal to the last bit',
    },
  ];
}
