/** How near a wanted day is, in words; `isLate` once it has passed. */
export interface DueWords {
  readonly text: string;
  readonly isLate: boolean;
}

const MS_PER_DAY = 86_400_000;
const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'] as const;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

/** Days as UTC midnights, so that a change to summer time is no day lost. */
function midnight(day: string): number {
  return Date.parse(`${day}T00:00:00Z`);
}

/** `2 Dec`, with the year when it is not the one of `today`. Days are `YYYY-MM-DD`. */
export function dayWords(day: string, today: string): string {
  const date = new Date(midnight(day));
  const words = `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()]!}`;
  return day.slice(0, 4) === today.slice(0, 4) ? words : `${words} ${day.slice(0, 4)}`;
}

/** `today`, `tomorrow`, `Friday, in 3 days`, `12 Dec, in 17 days`, `2 days late`. Days are `YYYY-MM-DD`. */
export function dueWords(day: string, today: string): DueWords {
  const days = Math.round((midnight(day) - midnight(today)) / MS_PER_DAY);
  if (days < 0) return { text: days === -1 ? '1 day late' : `${-days} days late`, isLate: true };
  if (days === 0) return { text: 'today', isLate: false };
  if (days === 1) return { text: 'tomorrow', isLate: false };
  const name = days < 7 ? WEEKDAYS[new Date(midnight(day)).getUTCDay()]! : dayWords(day, today);
  return { text: `${name}, in ${days} days`, isLate: false };
}

/** The day at this device, `YYYY-MM-DD`. */
export function dayOf(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
