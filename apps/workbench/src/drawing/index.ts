export { DrawingPane } from './drawing-pane.js';
export type { DrawingSelection } from './types.js';
