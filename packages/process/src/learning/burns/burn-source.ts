import type { Figure, Source } from '@gapwright/base';

/** Ids of the sources under which the learning writes into a shop book begin like this. */
const PREFIX = 'burn-log-v';

/** Id of the burns that made the given version of a shop book. */
export function burnSourceId(version: string): string {
  return `${PREFIX}${version}`;
}

/** The burn log a value of the shop book was learnt from; null for a starting value or one typed in. */
export function burnSourceOf({ reason }: Figure): Source | null {
  return reason.kind === 'given' && reason.source.id.startsWith(PREFIX) ? reason.source : null;
}
