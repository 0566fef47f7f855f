import { SheetWorker } from './sheet-worker.js';

// Reads and plans; nothing that takes long, so that a what-if never waits behind a proof.
new SheetWorker(self);
