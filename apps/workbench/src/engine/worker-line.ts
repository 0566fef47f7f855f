import type { SheetInputs } from './engine.js';
import type { FromSheetWorker, SheetQuestion, ToSheetWorker } from './messages.js';

/** Drawings and books a worker holds at once; the one used longest ago is let go. */
const HELD = 12;

/** The page's end of one worker: starts it when it is needed, hands over files once, starts a new one in place of an ended one. */
export class WorkerLine {
  private worker: Worker | null = null;
  private held = new Set<string>();

  constructor(
    private readonly start: () => Worker,
    private readonly hear: (message: FromSheetWorker) => void,
    private readonly fail: (says: string) => void,
  ) {}

  say(message: ToSheetWorker): void {
    this.running().postMessage(message);
  }

  /** Hands over what the worker has not got yet and gives the question by hashes. */
  question({ draft, drawing, book, post }: SheetInputs): SheetQuestion {
    if (drawing !== null) this.hold(drawing.sha256, { kind: 'hold drawing', ...drawing });
    for (const b of [book, post]) this.hold(b.sha256, { kind: 'hold book', ...b });
    return {
      draft,
      drawing: drawing === null ? null : { sha256: drawing.sha256, fileName: drawing.fileName },
      bookSha256: book.sha256,
      postSha256: post.sha256,
    };
  }

  /** Ends the worker in the middle of its work. The next message starts another. */
  end(): void {
    this.worker?.terminate();
    this.worker = null;
    this.held = new Set();
  }

  private hold(sha256: string, message: ToSheetWorker): void {
    const isHeld = this.worker !== null && this.held.delete(sha256);
    this.held.add(sha256);
    if (isHeld) return;
    this.say(message);
    for (const oldest of this.held) {
      if (this.held.size <= HELD) break;
      this.held.delete(oldest);
      this.say({ kind: 'let go', sha256: oldest });
    }
  }

  private running(): Worker {
    if (this.worker !== null) return this.worker;
    const worker = this.start();
    worker.onmessage = ({ data }: MessageEvent<FromSheetWorker>) => {
      if (this.worker === worker) this.hear(data);
    };
    worker.onerror = (event) => {
      if (this.worker !== worker) return;
      this.end();
      this.fail(event.message || 'A worker of this page could not be started');
    };
    this.worker = worker;
    return worker;
  }
}
