/** True for a day that exists, written `YYYY-MM-DD`. */
export function isDay(text: string): boolean {
  const parsed = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  return parsed !== null && !Number.isNaN(parsed.getTime()) && parsed.toISOString().slice(0, 10) === text;
}

/** Start of the day, seconds since 1970 UTC. Papers of one day are byte-identical: the clock's seconds do not matter. */
export function createdAtS(day: string): number {
  return Date.parse(`${day}T00:00:00Z`) / 1000;
}

const MS_PER_DAY = 86_400_000;

/** The day so many days later. */
export function daysLater(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * MS_PER_DAY).toISOString().slice(0, 10);
}
