import type { FromSideWorker, SideName, SideQuestions, ToSideWorker } from './side-messages.js';

/** The page's end of the worker for small questions. */
export class SideLine {
  private worker: Worker | null = null;
  private last = 0;
  private readonly waiting = new Map<number, { resolve(answer: unknown): void; reject(error: Error): void }>();

  constructor(private readonly start: () => Worker) {}

  ask<N extends SideName>(name: N, ask: SideQuestions[N]['ask']): Promise<SideQuestions[N]['answer']> {
    const id = ++this.last;
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve: resolve as (answer: unknown) => void, reject });
      this.running().postMessage({ id, name, ask } as ToSideWorker);
    });
  }

  end(): void {
    this.worker?.terminate();
    this.worker = null;
    this.failAll('The page is being closed.');
  }

  private running(): Worker {
    if (this.worker !== null) return this.worker;
    const worker = this.start();
    worker.onmessage = ({ data }: MessageEvent<FromSideWorker>) => {
      const waiting = this.waiting.get(data.id);
      this.waiting.delete(data.id);
      if ('fault' in data) waiting?.reject(new Error(data.fault));
      else waiting?.resolve(data.answer);
    };
    worker.onerror = (event) => {
      worker.terminate();
      if (this.worker === worker) this.worker = null;
      this.failAll(event.message || 'A worker of this page could not be started.');
    };
    this.worker = worker;
    return worker;
  }

  private failAll(says: string): void {
    for (const { reject } of this.waiting.values()) reject(new Error(says));
    this.waiting.clear();
  }
}
