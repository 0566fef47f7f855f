import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../../fixtures/dxf/', import.meta.url));

/** What the independent reader found in a file. */
export interface Expectation {
  readonly loadedBy: 'readfile' | 'recover';
  readonly insunits: number | null;
  readonly entities: Readonly<Record<string, number>>;
  readonly pathLength: Readonly<Record<string, number>>;
  readonly bbox: readonly [readonly number[], readonly number[]] | null;
}

export interface FixtureFile {
  readonly file: string;
  /** Null when the independent reader could not read the file at all. */
  readonly expect: Expectation | null;
}

export function fixtureFiles(): FixtureFile[] {
  return (JSON.parse(readFileSync(`${ROOT}manifest.json`, 'utf8')) as { files: FixtureFile[] }).files;
}

export function fixtureBytes(file: string): Uint8Array {
  return readFileSync(`${ROOT}${file}`);
}
