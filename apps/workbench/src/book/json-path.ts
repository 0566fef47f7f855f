/** Steps from the top of a book to one entry. */
export type JsonPath = readonly (string | number)[];

export function getAt(json: unknown, path: JsonPath): unknown {
  let at = json;
  for (const step of path) {
    if (typeof at !== 'object' || at === null) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

/** A copy with one entry changed; everything beside the path is shared. `undefined` takes the entry out. */
export function setAt(json: unknown, path: JsonPath, value: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (Array.isArray(json)) {
    const copy = [...json];
    if (rest.length === 0 && value === undefined) copy.splice(Number(step), 1);
    else copy[Number(step)] = setAt(copy[Number(step)], rest, value);
    return copy;
  }
  const copy: Record<string, unknown> = { ...(json as Record<string, unknown> | null) };
  if (rest.length === 0 && value === undefined) delete copy[String(step)];
  else copy[String(step)] = setAt(copy[String(step)], rest, value);
  return copy;
}

/** `materials[3].densityGPerCm3`, as problems name their place. */
export function pathWords(path: JsonPath): string {
  return path.reduce<string>(
    (text, step) => (typeof step === 'number' ? `${text}[${step}]` : text === '' ? step : `${text}.${step}`),
    '',
  );
}

/** The path behind such a name. */
export function parsePath(words: string): JsonPath {
  return words
    .replaceAll(/\[(\d+)\]/g, '.$1')
    .split('.')
    .filter((step) => step !== '')
    .map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}
