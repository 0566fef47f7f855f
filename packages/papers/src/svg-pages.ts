import { BugError } from '@gapwright/base';

/** Decimals of a coordinate, points: a third of a micrometre. */
const DECIMALS = 3;
const LONG_NUMBER = /-?\d+\.\d{4,}/g;

/** The compiler indents by four blanks a level, so the parts of the document begin in this column. */
const TOP_LEVEL = /^ {4}(?=<[a-z])/m;

/**
 * Cuts the compiler's picture of all pages, one below the other, into one self-contained SVG a page: each with the
 * glyphs it uses, pictures set in as drawings, nothing to fetch, nothing to run, no style. `title` is read to those who
 * cannot see the page.
 */
export function svgPages(all: string, pageCount: number, title: string): string[] {
  const head = /^<svg[^>]* viewBox="0 0 (\S+) (\S+)"/.exec(all);
  if (head === null) throw new BugError('the compiler gave a picture without a size');
  const widthPt = Number(head[1]);
  const heightPt = Number(head[2]) / pageCount;
  const parts = all.slice(all.indexOf('\n') + 1).split(TOP_LEVEL);
  const bodies = parts.filter((p) => /^<g[ >]/.test(p)).map((p) => p.slice(p.indexOf('\n'), p.lastIndexOf('</g>')));
  if (bodies.length !== pageCount) throw new BugError(`${bodies.length} pages were drawn of ${pageCount}`);
  const defined = definitions(parts.filter((p) => p.startsWith('<defs')).join(''));
  const size = `width="${short(widthPt)}pt" height="${short(heightPt)}pt" viewBox="0 0 ${short(widthPt)} ${short(heightPt)}"`;
  return bodies.map((raw, i) => {
    const body = compact(raw);
    const page =
      `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img">` +
      `<title>${xml(`${title}, page ${i + 1} of ${pageCount}`)}</title>` +
      `<path fill="#ffffff" d="M0 0H${short(widthPt)}V${short(heightPt)}H0Z"/>` +
      `<defs>${used(body, defined)}</defs>${inlinePictures(body)}</svg>`;
    requireHarmless(page);
    return page;
  });
}

const short = (value: number): string => String(Number(value.toFixed(DECIMALS)));

/** Without blanks between tags (there is no text in between), link names as SVG 2 has them, and short numbers. */
function compact(markup: string): string {
  return markup
    .replace(/>\s+</g, '><')
    .trim()
    .replaceAll('xlink:href=', 'href=')
    .replaceAll(/ class="[^"]*"/g, '')
    .replace(LONG_NUMBER, (n) => short(Number(n)));
}

/** Everything that has a name to be used by, as markup. */
function definitions(defs: string): ReadonlyMap<string, string> {
  const inner = compact(defs).replace(/<\/?defs[^>]*>/g, '');
  return new Map([...inner.matchAll(/<([a-zA-Z]+) id="([^"]+)".*?<\/\1>/g)].map((m) => [m[2]!, m[0]]));
}

/** The definitions a page refers to, and those that they refer to. */
function used(body: string, defined: ReadonlyMap<string, string>): string {
  const found = new Map<string, string>();
  const open = [body];
  for (let markup = open.pop(); markup !== undefined; markup = open.pop()) {
    for (const [, link, url] of markup.matchAll(/href="#([^"]+)"|url\(#([^)]+)\)/g)) {
      const id = (link ?? url)!;
      if (found.has(id)) continue;
      const definition = defined.get(id);
      if (definition === undefined) throw new BugError(`a page refers to ${id}, which is not drawn`);
      found.set(id, definition);
      open.push(definition);
    }
  }
  return [...found.values()].join('');
}

/** Our drawings come as pictures inside the picture; their lines are set in instead. */
function inlinePictures(body: string): string {
  return body.replace(
    /<image ([^>]*)href="data:image\/svg\+xml;base64,([^"]*)"([^>]*)\/>/g,
    (_all, before: string, data: string, after: string) => {
      const drawn = /^<svg[^>]* viewBox="([^"]*)">(.*)<\/svg>$/.exec(Buffer.from(data, 'base64').toString('utf8'));
      if (drawn === null) throw new BugError('a picture on a page is not one of our drawings');
      const attributes = `${before}${after}`;
      const transform = /transform="[^"]*"/.exec(attributes)?.[0] ?? '';
      const size = /\bwidth="[^"]*"/.exec(attributes)?.[0];
      const height = /\bheight="[^"]*"/.exec(attributes)?.[0];
      return `<g ${transform}><svg ${size} ${height} viewBox="${drawn[1]}">${drawn[2]}</svg></g>`;
    },
  );
}

/** What a page of ours may hold; anything else would be a new habit of the compiler, to be looked at first. */
const HARMLESS = new Set(['svg', 'title', 'defs', 'g', 'path', 'rect', 'circle', 'symbol', 'use', 'clipPath']);

function requireHarmless(page: string): void {
  for (const [, tag] of page.matchAll(/<([a-zA-Z:!?][\w:-]*)/g)) {
    if (!HARMLESS.has(tag!)) throw new BugError(`a page holds <${tag}>`);
  }
  if (/ (?:on\w+|style|class)=|href="(?!#)|url\((?!#)/.test(page)) throw new BugError('a page holds script or a link');
}

function xml(text: string): string {
  return text.replace(/[&<>]/g, (c) => (c === '&' ? '&amp;' : c === '<' ? '&lt;' : '&gt;'));
}
