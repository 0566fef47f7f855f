import type { SheetStep } from '@gapwright/job/sheet-patch';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { createEngine } from './create-engine.js';
import type { AnswerState, SheetInputs } from './engine.js';
import type { FromSheetWorker, ToSheetWorker } from './messages.js';

/** A worker that only writes down what it is told; the test answers for it. */
class FakeWorker {
  static all: FakeWorker[] = [];
  onmessage: ((event: { data: FromSheetWorker }) => void) | null = null;
  onerror = null;
  isEnded = false;
  readonly told: ToSheetWorker[] = [];

  constructor(readonly role: string) {
    FakeWorker.all.push(this);
  }

  postMessage(message: ToSheetWorker): void {
    this.told.push(message);
  }

  terminate(): void {
    this.isEnded = true;
  }

  say(message: FromSheetWorker): void {
    this.onmessage?.({ data: message });
  }

  /** Numbers of the questions asked of it. */
  get asked(): number[] {
    return this.told.flatMap((m) => (m.kind === 'ask' ? [m.id] : []));
  }
}

const make = (role: string) => () => new FakeWorker(role) as unknown as Worker;
const inputs = (quantity: number): SheetInputs => ({
  draft: { quantity },
  drawing: { sha256: 'd', fileName: 'd.dxf', bytes: new Uint8Array(3) },
  book: { sha256: 'b', json: {} },
  post: { sha256: 'p', json: {} },
});
const step = (done: SheetStep['done'], working: string | null, standing: string): SheetStep => ({
  done,
  working,
  progress: null,
  patch: { standing },
});
const worker = (role: string): FakeWorker => FakeWorker.all.filter((w) => w.role === role).at(-1)!;

beforeEach(() => {
  FakeWorker.all = [];
  vi.useFakeTimers();
});
afterEach(() => vi.useRealTimers());

function started() {
  const engine = createEngine({ planner: make('planner'), prover: make('prover'), side: make('side') });
  const states: AnswerState[] = [];
  return { engine, states, report: (s: AnswerState) => states.push(s) };
}

test('files and books are handed over once', () => {
  const { engine, report } = started();
  engine.ask('job', inputs(1), report);
  engine.ask('job', inputs(2), report);
  expect(worker('planner').told.map((m) => m.kind)).toEqual([
    'hold drawing',
    'hold book',
    'hold book',
    'ask',
    'stop',
    'ask',
  ]);
});

test('a newer question cancels the older one; late steps of it are not listened to', () => {
  const { engine, states, report } = started();
  engine.ask('job', inputs(1), report);
  engine.ask('job', inputs(2), report);
  const [first, second] = worker('planner').asked as [number, number];
  worker('planner').say({ kind: 'step', id: first, step: step('planned', 'proving', 'old'), table: null });
  expect(states.at(-1)!.answer).toBeNull();
  worker('planner').say({ kind: 'step', id: second, step: step('planned', 'proving', 'new'), table: null });
  expect(states.at(-1)).toMatchObject({ done: ['planned'], isStale: false, answer: { standing: 'new' } });
  engine.ask('job', inputs(3), report);
  expect(states.at(-1)).toMatchObject({ done: [], isStale: true, answer: { standing: 'new' } });
});

test('the proof waits until nothing was asked for a moment', () => {
  const { engine, report } = started();
  for (let quantity = 1; quantity <= 3; quantity++) {
    engine.ask('job', inputs(quantity), report);
    worker('planner').say({ kind: 'ended', id: worker('planner').asked.at(-1)!, hasMore: true });
    vi.advanceTimersByTime(50);
  }
  expect(worker('prover')).toBeUndefined();
  vi.advanceTimersByTime(1000);
  expect(worker('prover').asked).toEqual([worker('planner').asked.at(-1)]);
});

test('a prover deep in work nobody waits for is ended, and work of other columns starts again', () => {
  const { engine, report } = started();
  for (const column of ['job', 'what-if']) {
    engine.ask(column, inputs(1), report);
    worker('planner').say({ kind: 'ended', id: worker('planner').asked.at(-1)!, hasMore: true });
    vi.advanceTimersByTime(1000);
  }
  const first = worker('prover');
  expect(first.asked).toHaveLength(2);
  engine.ask('job', inputs(2), report);
  vi.advanceTimersByTime(1000);
  expect(first.isEnded).toBe(true);
  expect(worker('prover')).not.toBe(first);
  expect(worker('prover').asked).toEqual([first.asked[1]]);
  expect(worker('planner').isEnded).toBe(false);
});

test('a prover that stops in time goes on with what it keeps', () => {
  const { engine, report } = started();
  engine.ask('job', inputs(1), report);
  worker('planner').say({ kind: 'ended', id: 1, hasMore: true });
  vi.advanceTimersByTime(1000);
  engine.ask('job', inputs(2), report);
  worker('prover').say({ kind: 'ended', id: 1, hasMore: false });
  vi.advanceTimersByTime(1000);
  expect(worker('prover').isEnded).toBe(false);
});

test('a fault is said in one sentence and the last answer stays', () => {
  const { engine, states, report } = started();
  engine.ask('job', inputs(1), report);
  worker('planner').say({ kind: 'step', id: 1, step: step('planned', 'proving', 'new'), table: null });
  worker('planner').say({ kind: 'fault', id: 1, says: 'a law gave NaN' });
  expect(states.at(-1)).toMatchObject({ working: null, fault: expect.stringContaining('a law gave NaN') });
  expect(states.at(-1)!.answer!.standing).toBe('new');
});
