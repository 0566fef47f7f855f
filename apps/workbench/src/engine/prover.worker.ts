import { SheetWorker } from './sheet-worker.js';

// Proves, studies prices and weighs decisions; ended and started again when it works on something nobody waits for.
new SheetWorker(self);
