/** One measured figure: ours against a public library or a hardware limit, in the same run on the same input. */
export interface BenchLine {
  readonly name: string;
  readonly ours: number;
  readonly theirs: number;
  /** How many times ours is better (above 1) or worse (below 1); the name says better at what. */
  readonly ratio: number;
  readonly unit: string;
  readonly input: string;
  /** How it was checked that both sides gave the same answer, with the difference seen. */
  readonly agreement: string;
}

/** Median wall time of `run` in milliseconds over `rounds`, after `warmUp` unmeasured rounds. */
export function medianMs(run: () => void, rounds: number, warmUp = 2): number {
  for (let i = 0; i < warmUp; i++) run();
  const times: number[] = [];
  for (let i = 0; i < rounds; i++) {
    const start = performance.now();
    run();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)]!;
}
