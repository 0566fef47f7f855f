import type { Problem, Severity } from '@gapwright/base';

const ORDER: readonly Severity[] = ['stop', 'warn', 'info'];

/** The gravest first; within one severity as they were found. */
export function sortedProblems(problems: readonly Problem[]): Problem[] {
  return [...problems].sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
}

/** How many there are of each, e.g. `2 stop the plan, 1 to look at`. */
export function countsSay(problems: readonly Problem[]): string {
  const count = (severity: Severity): number => problems.filter((p) => p.severity === severity).length;
  const [stops, warns, infos] = ORDER.map(count) as [number, number, number];
  const parts: string[] = [];
  if (stops > 0) parts.push(stops === 1 ? '1 stops the plan' : `${stops} stop the plan`);
  if (warns > 0) parts.push(`${warns} to look at`);
  if (infos > 0) parts.push(`${infos} worth knowing`);
  return parts.join(', ');
}
