import { type Burn, EFFECT_KINDS, type EffectKind, levelsOfBurn } from './burn.js';

/** Numbers the effects in the order in which burns bring them, once per burn; several filters may share one. */
export class EffectIndex {
  private readonly indexOf = new Map<string, number>();
  private readonly known = new WeakMap<Burn, readonly number[]>();
  readonly names: { readonly kind: EffectKind; readonly name: string }[] = [];

  /** The effects of a burn, in the order of {@link EFFECT_KINDS}; new ones get a number. */
  rowsOf(burn: Burn): readonly number[] {
    let rows = this.known.get(burn);
    if (rows !== undefined) return rows;
    const levels = levelsOfBurn(burn);
    rows = EFFECT_KINDS.map((kind) => {
      const key = keyOf(kind, levels[kind]);
      let i = this.indexOf.get(key);
      if (i === undefined) {
        i = this.names.length;
        this.indexOf.set(key, i);
        this.names.push({ kind, name: levels[kind] });
      }
      return i;
    });
    this.known.set(burn, rows);
    return rows;
  }

  /** Number of an effect; undefined when no burn has brought it. */
  find(kind: EffectKind, name: string): number | undefined {
    return this.indexOf.get(keyOf(kind, name));
  }
}

/** No name holds a line break. */
function keyOf(kind: EffectKind, name: string): string {
  return `${kind}\n${name}`;
}
