export type {
  Drawing,
  DrawnContour,
  DrawnKeepOut,
  DrawnLeadIn,
  DrawnPass,
  DrawnPlace,
  DrawnStartHole,
  DrawnTab,
} from './drawing/drawing.js';
export { type DrawingSvg, drawingSvg } from './drawing/drawing-svg.js';
export { type PassOffset, wirePaths } from './drawing/wire-paths.js';
export { type LengthText, lengthText } from './length-text.js';
export type { LetterChange, LetterData, LetterPlace } from './letter-data.js';
export { letterText } from './letter-text.js';
export { letterProblems } from './letters.js';
export type { LengthUnit, Letterhead, PaperHead, PaperPart } from './paper-head.js';
export type { InternalCost, PriceDriver, QuotationData, QuotedPrice } from './quotation-data.js';
export { type PaperData, type PaperKind, type RenderOptions, renderPaper, renderPaperPages } from './render-paper.js';
export type { RouteCardData, RouteOperation } from './route-card-data.js';
export type {
  LadderPass,
  SetUpSheetData,
  SheetProof,
  SheetSlug,
  SheetStartHole,
  WorkStep,
} from './set-up-sheet-data.js';
export { type Spread, sure } from './spread.js';
