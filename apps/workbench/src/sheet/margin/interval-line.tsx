import { percentText } from '../../units/index.js';

const WIDTH = 220;
const HEIGHT = 26;
const EDGE = 6;

/** The 80 % interval drawn small: the bar from low to high, the median as a tick. */
export function IntervalLine({ low, value, high }: { low: number; value: number; high: number }) {
  if (!(high > low)) return null;
  const at = (v: number): number => EDGE + ((v - low) / (high - low)) * (WIDTH - 2 * EDGE);
  return (
    <svg
      className="sheet-interval-line"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`The middle lies ${percentText((value - low) / (high - low))} of the way from the low to the high end.`}
    >
      <line x1={EDGE} x2={WIDTH - EDGE} y1={13} y2={13} className="sheet-interval-bar" />
      <line x1={EDGE} x2={EDGE} y1={7} y2={19} className="sheet-interval-end" />
      <line x1={WIDTH - EDGE} x2={WIDTH - EDGE} y1={7} y2={19} className="sheet-interval-end" />
      <line x1={at(value)} x2={at(value)} y1={3} y2={23} className="sheet-interval-middle" />
    </svg>
  );
}
