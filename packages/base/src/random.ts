/** A reproducible stream of random numbers (sfc32, public-domain generator by Chris Doty-Humphrey). */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Standard normal (Marsaglia polar method). */
  normal(): number;
  /** Whole number in [0, n). */
  below(n: number): number;
}

/** Starts a stream; the same seed always gives the same numbers on every platform. */
export function seededRandom(seed: number): Random {
  let a = 0x9e3779b9 ^ seed;
  let b = 0x243f6a88 ^ (seed >>> 3);
  let c = 0xb7e15162;
  let counter = 1;
  let spare: number | undefined;
  const next = (): number => {
    const t = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 15; i++) next();
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const u = 2 * next() - 1;
      const v = 2 * next() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const scale = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * scale;
        return u * scale;
      }
    }
  };
  return { uniform: next, normal, below: (n) => Math.floor(next() * n) };
}
