import { type Figure, shortNumber } from '@gapwright/base';

/** `12.3 (9.8-15)`: a figure with three digits, its 80 % interval with two. */
export function spread(figure: Pick<Figure, 'value' | 'low' | 'high'>): string {
  const value = shortNumber(figure.value, 3);
  if (figure.low === figure.high) return value;
  return `${value} (${shortNumber(figure.low, 2)}-${shortNumber(figure.high, 2)})`;
}

/** Minutes as `2 h 05 min` from an hour on. */
function duration(minutes: number): string {
  if (minutes < 60) return `${shortNumber(minutes, 3)} min`;
  const whole = Math.round(minutes);
  return `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')} min`;
}

/** A duration with its 80 % interval. */
export function durationSpread(figure: Pick<Figure, 'value' | 'low' | 'high'>): string {
  if (figure.low === figure.high) return duration(figure.value);
  return `${duration(figure.value)} (80 %: ${duration(figure.low)} to ${duration(figure.high)})`;
}

export function money(figure: Pick<Figure, 'value'>, currency: string): string {
  return `${figure.value.toFixed(2)} ${currency}`;
}

export function moneySpread(figure: Pick<Figure, 'value' | 'low' | 'high'>, currency: string): string {
  if (figure.low === figure.high) return money(figure, currency);
  return `${figure.value.toFixed(2)} ${currency} (${figure.low.toFixed(2)}-${figure.high.toFixed(2)})`;
}

export function percent(share: number, digits = 0): string {
  return `${(share * 100).toFixed(digits)} %`;
}
