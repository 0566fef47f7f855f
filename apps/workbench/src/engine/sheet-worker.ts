import type { WorkingTable } from '@gapwright/base';
import { openFigure, type SheetInputs, SheetSession, type SheetStep } from '@gapwright/job';
import type { FromSheetWorker, SheetQuestion, ToSheetWorker } from './messages.js';
import { transferables } from './transferables.js';

type Ask = Extract<ToSheetWorker, { kind: 'ask' }>;

/** The part of a worker's global scope that is used here. */
interface Scope {
  onmessage: ((event: MessageEvent<ToSheetWorker>) => void) | null;
  postMessage(message: FromSheetWorker, transfer: Transferable[]): void;
}

/** Serves sheet questions in a worker, one after the other; between two steps it looks for messages. */
export class SheetWorker {
  private readonly session = new SheetSession();
  private readonly drawings = new Map<string, Uint8Array>();
  private readonly books = new Map<string, unknown>();
  private readonly tables = new Map<string, { plan: WorkingTable; price: WorkingTable }>();
  private waiting: Ask[] = [];
  private running: Ask | null = null;
  private isStopped = false;

  constructor(private readonly scope: Scope) {
    scope.onmessage = ({ data }) => this.take(data);
  }

  private take(message: ToSheetWorker): void {
    switch (message.kind) {
      case 'hold drawing':
        this.drawings.set(message.sha256, message.bytes);
        return;
      case 'hold book':
        this.books.set(message.sha256, message.json);
        return;
      case 'let go':
        this.drawings.delete(message.sha256);
        this.books.delete(message.sha256);
        return;
      case 'ask':
        this.waiting.push(message);
        void this.work();
        return;
      case 'stop':
        this.stop(message.id);
        return;
      case 'forget':
        this.tables.delete(message.column);
        return;
      case 'table':
        this.tables.set(message.column, { ...this.tableOf(message.column), price: JSON.parse(message.json) });
        return;
      case 'open': {
        const { plan, price } = this.tableOf(message.column);
        const figure = openFigure(plan, message.figureId) ?? openFigure(price, message.figureId);
        this.say({ kind: 'opened', id: message.id, figure });
        return;
      }
    }
  }

  private tableOf(column: string): { plan: WorkingTable; price: WorkingTable } {
    return this.tables.get(column) ?? { plan: NO_TABLE, price: NO_TABLE };
  }

  private stop(id: number): void {
    if (this.running?.id === id) this.isStopped = true;
    else if (this.waiting.some((a) => a.id === id)) {
      this.waiting = this.waiting.filter((a) => a.id !== id);
      this.say({ kind: 'ended', id, hasMore: false });
    }
  }

  private async work(): Promise<void> {
    if (this.running !== null) return;
    for (let ask = this.waiting.shift(); ask !== undefined; ask = this.waiting.shift()) {
      this.running = ask;
      this.isStopped = false;
      try {
        await this.answer(ask);
      } catch (fault) {
        this.say({ kind: 'fault', id: ask.id, says: fault instanceof Error ? fault.message : String(fault) });
      }
    }
    this.running = null;
  }

  private async answer({ id, column, question, parts }: Ask): Promise<void> {
    let hasMore = true;
    for (const step of this.session.answer(this.inputsOf(question), parts)) {
      hasMore = step.working !== null;
      this.report(id, column, step);
      await messagesTaken();
      if (this.isStopped) {
        hasMore = false;
        break;
      }
    }
    this.say({ kind: 'ended', id, hasMore });
  }

  /** Figure tables stay here: they are the larger half of a plan, and only one figure is opened at a time. */
  private report(id: number, column: string, step: SheetStep): void {
    let { patch } = step;
    let table: string | null = null;
    if (patch.plan) {
      const { figures, sources } = patch.plan;
      this.tables.set(column, { plan: { figures, sources }, price: NO_TABLE });
      patch = { ...patch, plan: { ...patch.plan, ...NO_TABLE } };
    }
    if (patch.price) {
      const { figures, sources } = patch.price;
      table = JSON.stringify({ figures, sources });
      patch = { ...patch, price: { ...patch.price, ...NO_TABLE } };
    }
    this.say({ kind: 'step', id, step: { ...step, patch }, table }, transferables(patch.scene ?? null));
  }

  private inputsOf({ draft, drawing, bookSha256, postSha256 }: SheetQuestion): SheetInputs {
    const bytes = drawing === null ? undefined : this.drawings.get(drawing.sha256);
    return {
      draft,
      drawing: drawing === null || bytes === undefined ? null : { ...drawing, bytes },
      book: { sha256: bookSha256, json: this.books.get(bookSha256) },
      post: { sha256: postSha256, json: this.books.get(postSha256) },
    };
  }

  private say(message: FromSheetWorker, transfer: Transferable[] = []): void {
    this.scope.postMessage(message, transfer);
  }
}

const NO_TABLE: WorkingTable = { figures: {}, sources: {} };

/** Lets messages that came meanwhile be taken before the next step. A timer would wait longer. */
function messagesTaken(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
