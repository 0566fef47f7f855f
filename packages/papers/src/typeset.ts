import { BugError } from '@gapwright/base';
import { NodeCompiler, type NodeTypstDocument, type RenderPdfOpts } from '@myriaddreamin/typst-ts-node-compiler';
import { readFonts, TEMPLATES_DIR } from './package-files.js';
import { svgPages } from './svg-pages.js';

/** Memoised layout of this many earlier papers is kept; more would grow a long-running server's memory. */
const KEEP_RESULTS = 10;

let shared: NodeCompiler | undefined;

function compiler(): NodeCompiler {
  shared ??= NodeCompiler.create({ workspace: TEMPLATES_DIR, fontArgs: [{ fontBlobs: readFonts() }] });
  return shared;
}

export interface TypesetOptions {
  /** Seconds since 1970 UTC. */
  readonly createdAtS: number;
  /** Hold the compiler to PDF/UA-1; it then refuses text that its typeface lacks. Otherwise the PDF is only tagged. */
  readonly isAccessible: boolean;
}

/**
 * Sets one template with data (anything JSON can hold) into a tagged PDF. Data reach the template as a value and never
 * as markup. Throws a BugError when the template does not compile: no input may cause that.
 */
export function typeset(template: string, data: unknown, options: TypesetOptions): Uint8Array {
  const creationTimestamp = options.createdAtS;
  return withDocument(template, data, (typst, document) => {
    const standard: RenderPdfOpts = options.isAccessible ? { pdfStandard: 'ua-1' } : {};
    return new Uint8Array(typst.pdf(document, { creationTimestamp, ...standard }));
  });
}

/** Sets one template with data into one SVG a page; see {@link svgPages}. */
export function typesetPages(template: string, data: unknown, title: string): string[] {
  return withDocument(template, data, (typst, document) =>
    svgPages(typst.plainSvg(document), document.numOfPages, title),
  );
}

function withDocument<T>(
  template: string,
  data: unknown,
  use: (typst: NodeCompiler, document: NodeTypstDocument) => T,
): T {
  const typst = compiler();
  const compiled = typst.compile({
    mainFilePath: `${TEMPLATES_DIR}${template}`,
    inputs: { data: JSON.stringify(data) },
  });
  const { result } = compiled;
  if (result === null) {
    const error = compiled.takeDiagnostics();
    const says = error === null ? 'no reason given' : JSON.stringify(error.shortDiagnostics);
    throw new BugError(`the template ${template} does not compile: ${says}`);
  }
  const made = use(typst, result);
  typst.evictCache(KEEP_RESULTS);
  return made;
}
