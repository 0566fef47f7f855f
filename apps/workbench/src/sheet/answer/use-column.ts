import { useCallback, useEffect, useRef, useState } from 'react';
import { type AnswerState, type SheetInputs, useEngine } from '../../engine/index.js';

/** An answer as it comes, which can be stopped and taken up again. */
export interface ColumnState extends AnswerState {
  /** The planner stopped it; what had come by then stays. */
  readonly isStopped: boolean;
  stop(): void;
  goOn(): void;
}

const IDLE: AnswerState = { answer: null, done: [], working: null, progress: null, isStale: false, fault: null };

/** Asks the engine for an answer whenever the inputs change; null asks nothing. */
export function useColumn(column: string, inputs: SheetInputs | null): ColumnState {
  const engine = useEngine();
  const [state, setState] = useState<AnswerState>(IDLE);
  const [isStopped, setStopped] = useState(false);
  const [round, setRound] = useState(0);
  const end = useRef<(() => void) | null>(null);
  const latest = useRef(inputs);
  latest.current = inputs;
  const key = inputs === null ? null : keyOf(inputs);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says all that matters of the inputs; a new round asks again
  useEffect(() => {
    if (latest.current === null) {
      setState(IDLE);
      return;
    }
    setStopped(false);
    end.current = engine.ask(column, latest.current, setState);
    return () => end.current?.();
  }, [engine, column, key, round]);
  const stop = useCallback(() => {
    end.current?.();
    setStopped(true);
    setState((s) => ({ ...s, working: null, progress: null }));
  }, []);
  const goOn = useCallback(() => setRound((n) => n + 1), []);
  return { ...state, isStopped, stop, goOn };
}

function keyOf({ draft, drawing, book, post }: SheetInputs): string {
  return JSON.stringify([draft, drawing?.sha256 ?? null, drawing?.fileName ?? null, book.sha256, post.sha256]);
}
