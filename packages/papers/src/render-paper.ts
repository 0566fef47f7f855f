import { liftLabels } from './drawing/lift-labels.js';
import type { HeadView } from './head-view.js';
import type { LetterData } from './letter-data.js';
import { letterView } from './letter-view.js';
import { letterProblems } from './letters.js';
import { PICTURE_KEY, printable, printableText, requireFinite } from './printable.js';
import type { QuotationData } from './quotation-data.js';
import { quotationView } from './quotation-view.js';
import type { RouteCardData } from './route-card-data.js';
import { routeCardView } from './route-card-view.js';
import type { SetUpSheetData } from './set-up-sheet-data.js';
import { setUpSheetView } from './set-up-sheet-view.js';
import { typeset, typesetPages } from './typeset.js';

/** The papers and what each is made from. */
export interface PaperData {
  readonly quotation: QuotationData;
  readonly 'set-up-sheet': SetUpSheetData;
  readonly 'route-card': RouteCardData;
  readonly letter: LetterData;
}

export type PaperKind = keyof PaperData;

export interface RenderOptions {
  /** Creation time written into the file, seconds since 1970 UTC. Same data and time give the same bytes. */
  readonly createdAtS: number;
}

/** A paper in words; all have the same head and foot. */
interface PaperView {
  readonly head: HeadView;
}

const VIEWS: { readonly [K in PaperKind]: (data: PaperData[K]) => PaperView } = {
  quotation: quotationView,
  'set-up-sheet': setUpSheetView,
  'route-card': routeCardView,
  letter: letterView,
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

/**
 * The pages of a paper as SVG, to be looked at on a screen: the same template and data as the PDF, every letter an
 * outline. Each page stands by itself: no script, no style, no link, no typeface to load. Same data, same text.
 * Throws a BugError on numbers that are not finite.
 */
export function renderPaperPages<K extends PaperKind>(kind: K, data: PaperData[K]): string[] {
  requireFinite(data);
  const view = VIEWS[kind](data);
  return typesetPages(`${kind}.typ`, printable(withLabelsLifted(view)), printableText(pageTitle(view)));
}

/** Every paper's view says its title in its head. */
function pageTitle(view: PaperView): string {
  return `${view.head.title} ${view.head.jobNumber}`;
}

/** Pictures with their texts beside them, for the template to set. */
function withLabelsLifted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withLabelsLifted);
  if (typeof value !== 'object' || value === null) return value;
  const lifted = Object.entries(value).flatMap(([key, item]) =>
    key === PICTURE_KEY && typeof item === 'string'
      ? Object.entries(liftLabels(item))
      : [[key, withLabelsLifted(item)] as const],
  );
  return Object.fromEntries(lifted);
}
