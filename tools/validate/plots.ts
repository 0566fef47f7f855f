/** Small SVG plots for the validation page: two inks, axes with numbers, no decoration. */

const INK = '#1f2933';
const SOFT = '#8a96a3';
const ACCENT = '#b4491c';
const FONT = 'font-family="sans-serif" font-size="11"';

interface Frame {
  readonly width: number;
  readonly height: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

const MARGIN = { left: 56, right: 12, top: 26, bottom: 40 };

/** A round step that gives about five marks between two values. */
function roundStep(low: number, high: number): number {
  const rough = (high - low) / 5 || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const mantissa = rough / power;
  return (mantissa < 1.5 ? 1 : mantissa < 3.5 ? 2 : mantissa < 7.5 ? 5 : 10) * power;
}

function marks(low: number, high: number): number[] {
  const step = roundStep(low, high);
  const out: number[] = [];
  for (let v = Math.ceil(low / step) * step; v <= high + step * 1e-9; v += step) out.push(Number(v.toPrecision(12)));
  return out;
}

function frameOf(
  xRange: readonly [number, number],
  yRange: readonly [number, number],
  width = 360,
  height = 280,
): Frame {
  const w = width - MARGIN.left - MARGIN.right;
  const h = height - MARGIN.top - MARGIN.bottom;
  return {
    width,
    height,
    x: (v) => MARGIN.left + (w * (v - xRange[0])) / (xRange[1] - xRange[0]),
    y: (v) => MARGIN.top + h - (h * (v - yRange[0])) / (yRange[1] - yRange[0]),
  };
}

function axes(
  f: Frame,
  xRange: readonly [number, number],
  yRange: readonly [number, number],
  title: string,
  xLabel: string,
  yLabel: string,
): string {
  const [x0, x1, y0, y1] = [f.x(xRange[0]), f.x(xRange[1]), f.y(yRange[0]), f.y(yRange[1])];
  const out = [
    `<path d="M${x0} ${y1}V${y0}H${x1}" fill="none" stroke="${INK}"/>`,
    `<text x="${x0}" y="16" ${FONT} font-weight="600" fill="${INK}">${title}</text>`,
    `<text x="${(x0 + x1) / 2}" y="${f.height - 6}" text-anchor="middle" ${FONT} fill="${INK}">${xLabel}</text>`,
    `<text transform="translate(13 ${(y0 + y1) / 2}) rotate(-90)" text-anchor="middle" ${FONT} fill="${INK}">${yLabel}</text>`,
  ];
  for (const v of marks(...xRange)) {
    out.push(`<path d="M${f.x(v)} ${y0}v4" stroke="${INK}"/>`);
    out.push(`<text x="${f.x(v)}" y="${y0 + 16}" text-anchor="middle" ${FONT} fill="${INK}">${v}</text>`);
  }
  for (const v of marks(...yRange)) {
    out.push(`<path d="M${x0} ${f.y(v)}h-4" stroke="${INK}"/>`);
    out.push(`<text x="${x0 - 7}" y="${f.y(v) + 4}" text-anchor="end" ${FONT} fill="${INK}">${v}</text>`);
  }
  return out.join('');
}

function svg(f: Frame, body: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${f.width}" height="${f.height}" viewBox="0 0 ${f.width} ${f.height}"><rect width="100%" height="100%" fill="#fff"/>${body}</svg>\n`;
}

const n = (v: number): string => v.toFixed(2);

/** Forecast against observed, each with its 80 % interval as a bar; misses in the accent colour. */
export function forecastPlot(
  title: string,
  unit: string,
  rows: readonly { readonly observed: number; readonly median: number; readonly low: number; readonly high: number }[],
): string {
  const values = rows.flatMap((r) => [r.observed, r.median]);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const pad = (high - low) * 0.08 || 1;
  const range: [number, number] = [low - pad, high + pad];
  const f = frameOf(range, range);
  const clamp = (v: number): number => Math.min(range[1], Math.max(range[0], v));
  const body = [
    `<path d="M${n(f.x(range[0]))} ${n(f.y(range[0]))}L${n(f.x(range[1]))} ${n(f.y(range[1]))}" stroke="${SOFT}" stroke-dasharray="4 3"/>`,
    ...rows.map((r) => {
      const isInside = r.observed >= r.low && r.observed <= r.high;
      const colour = isInside ? INK : ACCENT;
      return (
        `<path d="M${n(f.x(r.observed))} ${n(f.y(clamp(r.low)))}V${n(f.y(clamp(r.high)))}" stroke="${colour}" stroke-opacity="0.5"/>` +
        `<circle cx="${n(f.x(r.observed))}" cy="${n(f.y(r.median))}" r="2.4" fill="${colour}"/>`
      );
    }),
  ];
  return svg(f, axes(f, range, range, title, `observed, ${unit}`, `forecast, ${unit}`) + body.join(''));
}

/** Histogram of probability integral transforms; even bars mean honest intervals. The dashed line is the even height. */
export function pitPlot(title: string, counts: readonly number[]): string {
  const total = counts.reduce((a, b) => a + b, 0);
  const even = total / counts.length;
  const top = Math.max(...counts, even * 1.5);
  const f = frameOf([0, 1], [0, top]);
  const bars = counts.map((count, i) => {
    const [x0, x1] = [f.x(i / counts.length), f.x((i + 1) / counts.length)];
    return `<rect x="${n(x0 + 1)}" y="${n(f.y(count))}" width="${n(x1 - x0 - 2)}" height="${n(f.y(0) - f.y(count))}" fill="${SOFT}"/>`;
  });
  const line = `<path d="M${n(f.x(0))} ${n(f.y(even))}H${n(f.x(1))}" stroke="${INK}" stroke-dasharray="4 3"/>`;
  return svg(
    f,
    bars.join('') + line + axes(f, [0, 1], [0, top], title, 'where the observation fell in its forecast', 'rows'),
  );
}

/** One or more curves over the same x, each with a name at its end. */
export function curvePlot(
  title: string,
  xLabel: string,
  yLabel: string,
  x: readonly number[],
  curves: readonly { readonly name: string; readonly y: readonly number[] }[],
  goal?: number,
): string {
  const ys = curves.flatMap((c) => c.y);
  const range: [number, number] = [0, Math.max(...ys, goal ?? 0) * 1.1];
  const xRange: [number, number] = [Math.min(...x), Math.max(...x)];
  const f = frameOf(xRange, range, 460, 280);
  const inks = [INK, ACCENT, SOFT, '#3c6e8f', '#6b8f3c'];
  const body = curves.map((c, k) => {
    const d = c.y.map((v, i) => `${i === 0 ? 'M' : 'L'}${n(f.x(x[i]!))} ${n(f.y(v))}`).join('');
    const ink = inks[k % inks.length];
    const key = `<path d="M${f.width - 170} ${36 + 15 * k}h18" stroke="${ink}" stroke-width="2"/><text x="${f.width - 147}" y="${40 + 15 * k}" ${FONT} fill="${INK}">${c.name}</text>`;
    return `<path d="${d}" fill="none" stroke="${ink}" stroke-width="1.8"/>${key}`;
  });
  if (goal !== undefined) {
    body.push(
      `<path d="M${n(f.x(xRange[0]))} ${n(f.y(goal))}H${n(f.x(xRange[1]))}" stroke="${SOFT}" stroke-dasharray="4 3"/>`,
    );
  }
  return svg(f, axes(f, xRange, range, title, xLabel, yLabel) + body.join(''));
}
