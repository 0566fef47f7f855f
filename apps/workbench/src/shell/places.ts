/** The five places of the workbench. */
export const PLACES = [
  { id: 'desk', path: '/', label: 'Desk', keys: 'g d', answers: 'What is waiting for me?' },
  { id: 'sheet', path: '/jobs', label: 'Job sheet', keys: 'g j', answers: 'The whole of one job.' },
  { id: 'floor', path: '/floor', label: 'Floor', keys: 'g f', answers: 'Who must be where, when?' },
  { id: 'burns', path: '/burns', label: 'Burn log', keys: 'g l', answers: 'How good are our estimates?' },
  { id: 'book', path: '/book', label: 'Shop book', keys: 'g b', answers: 'What do we have and believe?' },
] as const;

export type PlaceId = (typeof PLACES)[number]['id'];

/** The place an address belongs to; null for an address nobody knows. */
export function placeOf(pathname: string): PlaceId | null {
  if (pathname === '/') return 'desk';
  return PLACES.find((p) => p.path !== '/' && (pathname === p.path || pathname.startsWith(`${p.path}/`)))?.id ?? null;
}

export function jobPath(jobId: string): string {
  return `/jobs/${jobId}`;
}

/** The job an address opens. */
export function jobIdOf(pathname: string): string | null {
  return /^\/jobs\/([^/]+)/.exec(pathname)?.[1] ?? null;
}
