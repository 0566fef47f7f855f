/** A group code with its value. */
export type Tag = readonly [number, string | number];

export function encode(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function tagText(tags: readonly Tag[]): string {
  return tags.map(([code, value]) => `${code}\n${value}\n`).join('');
}

/** A whole file from its parts; units 4 is mm. */
export function dxfText(parts: {
  units?: number;
  layers?: readonly Tag[];
  blocks?: readonly Tag[];
  entities: readonly Tag[];
}): string {
  const tags: Tag[] = [];
  const section = (name: string, content: readonly Tag[]): void => {
    tags.push([0, 'SECTION'], [2, name], ...content, [0, 'ENDSEC']);
  };
  section('HEADER', [[9, '$ACADVER'], [1, 'AC1027'], ...units(parts.units ?? 4)]);
  if (parts.layers !== undefined) section('TABLES', [[0, 'TABLE'], [2, 'LAYER'], ...parts.layers, [0, 'ENDTAB']]);
  if (parts.blocks !== undefined) section('BLOCKS', parts.blocks);
  section('ENTITIES', parts.entities);
  tags.push([0, 'EOF']);
  return tagText(tags);
}

function units(code: number): Tag[] {
  return [
    [9, '$INSUNITS'],
    [70, code],
  ];
}

export function line(x1: number, y1: number, x2: number, y2: number, layer = 'CUT'): Tag[] {
  return [
    [0, 'LINE'],
    [8, layer],
    [10, x1],
    [20, y1],
    [11, x2],
    [21, y2],
  ];
}

export function polyline(points: readonly (readonly [number, number, number?])[], isClosed = true): Tag[] {
  const vertices = points.flatMap(([x, y, bulge]): Tag[] => [
    [10, x],
    [20, y],
    ...(bulge === undefined ? [] : ([[42, bulge]] as Tag[])),
  ]);
  return [[0, 'LWPOLYLINE'], [8, 'CUT'], [90, points.length], [70, isClosed ? 1 : 0], ...vertices];
}

export function circle(x: number, y: number, radius: number, layer = 'CUT'): Tag[] {
  return [
    [0, 'CIRCLE'],
    [8, layer],
    [10, x],
    [20, y],
    [40, radius],
  ];
}

export function block(name: string, content: readonly Tag[]): Tag[] {
  return [[0, 'BLOCK'], [8, '0'], [2, name], [70, 0], [10, 0], [20, 0], ...content, [0, 'ENDBLK'], [8, '0']];
}

export function insert(name: string, x: number, y: number, ...more: Tag[]): Tag[] {
  return [[0, 'INSERT'], [8, 'CUT'], [2, name], [10, x], [20, y], ...more];
}
