export { DrawingPane, type DrawingPaneProps } from './drawing-pane.js';
export { PRINT_COLOURS, type SvgOptions, sceneSvg } from './scene-svg.js';
export type { DrawingSelection, DrawingShow } from './types.js';
