import { letterProblems } from './letters.js';
import { printable, requireFinite } from './printable.js';
import type { QuotationData } from './quotation-data.js';
import { quotationView } from './quotation-view.js';
import type { RouteCardData } from './route-card-data.js';
import { routeCardView } from './route-card-view.js';
import type { SetUpSheetData } from './set-up-sheet-data.js';
import { setUpSheetView } from './set-up-sheet-view.js';
import { typeset } from './typeset.js';

/** The papers and what each is made from. */
export interface PaperData {
  readonly quotation: QuotationData;
  readonly 'set-up-sheet': SetUpSheetData;
  readonly 'route-card': RouteCardData;
}

export type PaperKind = keyof PaperData;

export interface RenderOptions {
  /** Creation time written into the file, seconds since 1970 UTC. Same data and time give the same bytes. */
  readonly createdAtS: number;
}

const VIEWS: { readonly [K in PaperKind]: (data: PaperData[K]) => object } = {
  quotation: quotationView,
  'set-up-sheet': setUpSheetView,
  'route-card': routeCardView,
};

/**
 * Sets a paper as a tagged A4 PDF with its typeface embedded, held to PDF/UA-1 by the compiler unless a text has letters
 * the typeface lacks (see `letterProblems`). Needs Node (reads templates and typefaces beside this
 * package). Throws a BugError on numbers that are not finite.
 */
export function renderPaper<K extends PaperKind>(kind: K, data: PaperData[K], options: RenderOptions): Uint8Array {
  requireFinite(data);
  const isAccessible = letterProblems(data).length === 0;
  return typeset(`${kind}.typ`, printable(VIEWS[kind](data)), { createdAtS: options.createdAtS, isAccessible });
}
