import type { Scene } from '@gapwright/job';

/** The buffers of a scene, which go to the page without being copied. */
export function transferables(scene: Partial<Scene> | null): Transferable[] {
  const out: Transferable[] = [];
  const add = (...arrays: readonly ArrayBufferView[]): void => {
    for (const { buffer } of arrays) if (buffer instanceof ArrayBuffer) out.push(buffer);
  };
  for (const { paths } of scene?.layers ?? []) add(paths.values, paths.starts, paths.closed);
  for (const { samples } of scene?.bands ?? []) add(samples);
  for (const { paths, endMin, cuts, lines, halfKerfMm } of scene?.walks ?? []) {
    add(paths.values, paths.starts, paths.closed, endMin, cuts, lines, halfKerfMm);
  }
  return out;
}
