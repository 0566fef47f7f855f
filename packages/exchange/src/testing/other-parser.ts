import library, { type IDxf } from 'dxf-parser';

// The package is one CommonJS function; its types describe the module form, which Node does not load.
const Parser = library as unknown as new () => { parseSync(text: string): IDxf | null };

/** Parses a text DXF with dxf-parser; null when it throws or finds nothing. Its warnings go nowhere. */
export function parseWithOther(text: string): IDxf | null {
  const { warn, log, error } = console;
  console.warn = console.log = console.error = () => {};
  try {
    const found = new Parser().parseSync(text);
    return found?.entities === undefined ? null : found;
  } catch {
    return null;
  } finally {
    console.warn = warn;
    console.log = log;
    console.error = error;
  }
}
