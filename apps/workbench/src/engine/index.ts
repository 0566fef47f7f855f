export { createEngine, type EngineWorkers } from './create-engine.js';
export type { AnswerState, Engine, SheetInputs } from './engine.js';
export { EngineProvider, useAnswer, useEngine, useOpenedFigure } from './engine-react.js';
export type { BurnImport } from './side-messages.js';
