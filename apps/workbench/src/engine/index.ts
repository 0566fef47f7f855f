export { createEngine } from './create-engine.js';
export type { AnswerState, SheetInputs } from './engine.js';
export { EngineProvider, useEngine, useOpenedFigure } from './engine-react.js';
