import { SheetWorker } from './sheet-worker.js';

// One file, run twice: the planner reads and plans, so that a what-if never waits behind a proof; the prover proves,
// studies prices and weighs decisions, and is ended when it works on something nobody waits for.
new SheetWorker(self);
