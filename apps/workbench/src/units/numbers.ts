/** Minutes as a planner says them: `38 min`, `4 h 12 min`, `2 d 3 h` (days of 24 machine hours). */
export function minutesText(min: number): string {
  if (!Number.isFinite(min)) return '–';
  if (min < 10) return `${trim(min, 1)} min`;
  if (min < 100) return `${Math.round(min)} min`;
  const whole = Math.round(min);
  const hours = Math.floor(whole / 60);
  if (hours < 72) return `${hours} h ${String(whole % 60).padStart(2, '0')} min`;
  const h = Math.round(min / 60);
  return `${Math.floor(h / 24)} d ${h % 24} h`;
}

/** Money with two decimals below a thousand, whole above. */
export function moneyText(value: number, currency: string): string {
  const digits = Math.abs(value) < 1000 ? 2 : 0;
  return `${groups(value.toFixed(digits))} ${currency}`;
}

export function percentText(share: number, digits = 0): string {
  return `${(share * 100).toFixed(digits)} %`;
}

/** A chance in words people bet with: `about 1 in 5`. */
export function chanceText(share: number): string {
  if (share < 0.005) return 'less than 1 in 200';
  if (share > 0.995) return 'almost certain';
  if (share > 0.5) return `about ${Math.round(share * 10)} in 10`;
  return `about 1 in ${Math.round(1 / share)}`;
}

export function trim(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Narrow no-break spaces between groups of three digits (ISO 80000-1, 7.3.1). */
function groups(text: string): string {
  const [whole, part] = text.split('.');
  const grouped = whole!.replaceAll(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
  return part === undefined ? grouped : `${grouped}.${part}`;
}
