/** The version with its last number raised by one; `.1` is added when there is none. */
export function nextVersion(version: string): string {
  const m = /^(.*?)(\d+)(\D*)$/.exec(version);
  return m === null ? `${version}.1` : `${m[1]}${Number(m[2]) + 1}${m[3]}`;
}
