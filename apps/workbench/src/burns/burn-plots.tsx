import type { ReactNode } from 'react';
import { linearScale, logScale } from '../plots/scale.js';
import { minutesText } from '../units/index.js';
import { byMachine, coverageBand, movingCoverage, type SeenBurn } from './seen-burn.js';

const WIDTH = 460;
const HEIGHT = 320;
const LEFT = 56;
const BOTTOM = 44;
const TOP = 12;
const RIGHT = 12;

interface PlotFrameProps {
  readonly title: string;
  /** What the picture shows, in words with its main numbers. */
  readonly says: string;
  readonly height?: number;
  readonly children: ReactNode;
}

function PlotFrame({ title, says, height = HEIGHT, children }: PlotFrameProps) {
  return (
    <figure className="burns-plot">
      <figcaption>
        <h3>{title}</h3>
        <p>{says}</p>
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={`${title}. ${says}`}>
        {children}
      </svg>
    </figure>
  );
}

/** Forecast against what it took, both logarithmic, with the 80 % interval of each forecast. */
export function CalibrationPlot({ burns }: { readonly burns: readonly SeenBurn[] }) {
  const all = burns.flatMap((b) => [b.content.actualMin, b.forecastMin]);
  const low = Math.min(...all) / 1.3;
  const high = Math.max(...all) * 1.3;
  const x = logScale(low, high, LEFT, WIDTH - RIGHT);
  const y = logScale(low, high, HEIGHT - BOTTOM, TOP);
  const inside = burns.filter((b) => b.isIn80).length;
  return (
    <PlotFrame
      title="Forecast and actual"
      says={`${inside} of ${burns.length} burns lay inside their 80 % interval. On the line, a burn took as long as forecast; above it, longer.`}
    >
      <Grid
        x={x.ticks.map((t) => [x.at(t), plainMinutes(t)])}
        y={y.ticks.map((t) => [y.at(t), plainMinutes(t)])}
        height={HEIGHT}
      />
      <line className="burns-equal" x1={x.at(low)} y1={y.at(low)} x2={x.at(high)} y2={y.at(high)} />
      {burns.map((b) => {
        const cx = x.at(b.forecastMin);
        const at = (min: number): number => y.at(Math.min(high, Math.max(low, min)));
        return (
          <g key={b.id} className={b.isIn80 ? 'burns-in' : 'burns-out'}>
            <line x1={cx} x2={cx} y1={at(b.low80Min)} y2={at(b.high80Min)} />
            {b.isIn80 ? (
              <circle cx={cx} cy={y.at(b.content.actualMin)} r={3} />
            ) : (
              <path d={cross(cx, y.at(b.content.actualMin), 3.5)} />
            )}
            <title>{burnWords(b)}</title>
          </g>
        );
      })}
      <AxisNames x="forecast, min" y="actual, min" height={HEIGHT} />
    </PlotFrame>
  );
}

/** Share inside the 80 % interval over the last burns, against the band a true 80 % would stay in. */
export function CoveragePlot({
  burns,
  window = 30,
}: {
  readonly burns: readonly SeenBurn[];
  readonly window?: number;
}) {
  const shares = movingCoverage(burns, window);
  const height = 220;
  const x = linearScale(1, Math.max(2, burns.length), LEFT, WIDTH - RIGHT);
  const y = linearScale(0, 1, height - BOTTOM, TOP);
  const band = (side: 0 | 1): [number, number][] =>
    shares.map((_, i) => [x.at(i + 1), y.at(coverageBand(Math.min(i + 1, window))[side])]);
  const area = [...band(0), ...band(1).reverse()];
  const last = shares.at(-1) ?? 0;
  const [low, high] = coverageBand(Math.min(burns.length, window));
  const isFair = last >= low && last <= high;
  return (
    <PlotFrame
      title={`Inside the 80 % interval, last ${Math.min(window, burns.length)} burns`}
      says={`Now ${Math.round(last * 100)} %. ${isFair ? 'That is what intervals of 80 % give by chance' : last > high ? 'More than 80 % intervals should hold: they are too wide' : 'Fewer than 80 % intervals should hold: they are too narrow'} (band: 95 times of 100).`}
      height={height}
    >
      <Grid
        x={x.ticks.filter((t) => Number.isInteger(t)).map((t) => [x.at(t), String(t)])}
        y={[0, 0.2, 0.4, 0.6, 0.8, 1].map((t) => [y.at(t), `${Math.round(t * 100)} %`])}
        height={height}
      />
      <path className="burns-band" d={`${path(area)}Z`} />
      <line className="burns-equal" x1={LEFT} x2={WIDTH - RIGHT} y1={y.at(0.8)} y2={y.at(0.8)} />
      <path className="burns-line" d={path(shares.map((s, i) => [x.at(i + 1), y.at(s)]))} />
      <AxisNames x="burns in order" y="" height={height} />
    </PlotFrame>
  );
}

/** Actual over the book's minutes, burn by burn, one strip per machine: a machine that drifts leaves the line. */
export function DriftPlot({
  burns,
  alarms,
}: {
  readonly burns: readonly SeenBurn[];
  readonly alarms: readonly { readonly machine: string; readonly day: string }[];
}) {
  const machines = byMachine(burns);
  const strip = 54;
  const height = TOP + machines.length * strip + BOTTOM;
  const ratios = burns.map((b) => b.content.actualMin / b.content.predictedMin);
  const reach = Math.max(2, ...ratios, ...ratios.map((r) => 1 / r));
  const days = burns.map((b) => Date.parse(b.content.day));
  const x = linearScale(Math.min(...days), Math.max(...days, Math.min(...days) + 1), LEFT + 10, WIDTH - RIGHT);
  return (
    <PlotFrame
      title="Actual over the book, by machine"
      says={
        alarms.length === 0
          ? 'No machine has moved away from what it did. Above the line a burn took longer than the book said.'
          : `${alarms.map((a) => `${a.machine} on ${a.day}`).join(', ')}: burns have moved away; look at the machine, its wire and its settings.`
      }
      height={height}
    >
      {machines.map(([machine, list], m) => {
        const top = TOP + m * strip;
        const y = logScale(1 / reach, reach, top + strip - 8, top + 4);
        return (
          <g key={machine}>
            <text className="burns-text" x={4} y={top + strip / 2 + 4}>
              {machine}
            </text>
            <line className="burns-equal" x1={LEFT} x2={WIDTH - RIGHT} y1={y.at(1)} y2={y.at(1)} />
            {list.map((b) => (
              <circle
                key={b.id}
                className={b.isIn80 ? 'burns-dot' : 'burns-dot burns-dot-out'}
                cx={x.at(Date.parse(b.content.day))}
                cy={y.at(b.content.actualMin / b.content.predictedMin)}
                r={2.5}
              >
                <title>{burnWords(b)}</title>
              </circle>
            ))}
            {alarms
              .filter((a) => a.machine === machine)
              .map((a) => (
                <g key={a.day} className="burns-alarm">
                  <line x1={x.at(Date.parse(a.day))} x2={x.at(Date.parse(a.day))} y1={top} y2={top + strip - 6} />
                  <text className="burns-text" x={x.at(Date.parse(a.day)) - 4} y={top + 10} textAnchor="end">
                    moved
                  </text>
                </g>
              ))}
          </g>
        );
      })}
      {[...new Set([Math.min(...days), Math.max(...days)])].map((day, i) => (
        <text
          key={day}
          className="burns-text"
          x={x.at(day)}
          y={height - BOTTOM + 18}
          textAnchor={i === 0 ? 'start' : 'end'}
        >
          {new Date(day).toISOString().slice(0, 10)}
        </text>
      ))}
      <text className="burns-text" x={WIDTH - RIGHT} y={height - 6} textAnchor="end">
        each strip: {`1/${Number(reach.toPrecision(2))} to ${Number(reach.toPrecision(2))} times the book`}
      </text>
    </PlotFrame>
  );
}

function Grid({
  x,
  y,
  height,
}: {
  readonly x: readonly (readonly [number, string])[];
  readonly y: readonly (readonly [number, string])[];
  readonly height: number;
}) {
  return (
    <g>
      {x.map(([at, label]) => (
        <g key={`x${label}`}>
          <line className="burns-grid" x1={at} x2={at} y1={TOP} y2={height - BOTTOM} />
          <text className="burns-text" x={at} y={height - BOTTOM + 16} textAnchor="middle">
            {label}
          </text>
        </g>
      ))}
      {y.map(([at, label]) => (
        <g key={`y${label}`}>
          <line className="burns-grid" x1={LEFT} x2={WIDTH - RIGHT} y1={at} y2={at} />
          <text className="burns-text" x={LEFT - 6} y={at + 4} textAnchor="end">
            {label}
          </text>
        </g>
      ))}
    </g>
  );
}

function AxisNames({ x, y, height }: { readonly x: string; readonly y: string; readonly height: number }) {
  return (
    <g>
      <text className="burns-text" x={(LEFT + WIDTH - RIGHT) / 2} y={height - 8} textAnchor="middle">
        {x}
      </text>
      {y === '' ? null : (
        <text className="burns-text" x={LEFT + 6} y={TOP + 12}>
          {y}
        </text>
      )}
    </g>
  );
}

function path(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}

function cross(x: number, y: number, r: number): string {
  return `M${x - r} ${y - r}L${x + r} ${y + r}M${x - r} ${y + r}L${x + r} ${y - r}`;
}

function plainMinutes(min: number): string {
  return String(Number(min.toPrecision(3)));
}

function burnWords({ content: c, forecastMin, low80Min, high80Min }: SeenBurn): string {
  return `${c.day}, ${c.material} on ${c.machine}: took ${minutesText(c.actualMin)}; forecast ${minutesText(forecastMin)} (${minutesText(low80Min)} to ${minutesText(high80Min)})`;
}
