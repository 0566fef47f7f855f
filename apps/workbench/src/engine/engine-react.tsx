import type { OpenedFigure } from '@gapwright/job';
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react';
import { IDLE } from './column.js';
import type { AnswerState, Engine, SheetInputs } from './engine.js';

const EngineContext = createContext<Engine | null>(null);

/** Gives the engine to everything below it. */
export function EngineProvider({ engine, children }: { readonly engine: Engine; readonly children: ReactNode }) {
  return <EngineContext value={engine}>{children}</EngineContext>;
}

/** The engine of this page. */
export function useEngine(): Engine {
  const engine = useContext(EngineContext);
  if (engine === null) throw new Error('There is no EngineProvider around this part of the page.');
  return engine;
}

/** The answer to the inputs as it comes. Inputs are compared by draft (as JSON) and hashes; null asks nothing. */
export function useAnswer(column: string, inputs: SheetInputs | null): AnswerState {
  const engine = useEngine();
  const key = inputs === null ? null : inputsKey(inputs);
  const [shown, setShown] = useState<{ column: string; state: AnswerState }>({ column, state: IDLE });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says all that matters about the inputs
  useEffect(() => {
    if (inputs === null) return;
    return engine.ask(column, inputs, (state) => setShown({ column, state }));
  }, [engine, column, key]);
  return key === null || shown.column !== column ? IDLE : shown.state;
}

/** One figure opened; null while it is fetched or when none is asked for. Opened again when the answer changes. */
export function useOpenedFigure(column: string, figureId: string | null, answer?: unknown): OpenedFigure | null {
  const engine = useEngine();
  const [opened, setOpened] = useState<OpenedFigure | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new answer may give the figure another working
  useEffect(() => {
    if (figureId === null) return;
    let isCurrent = true;
    engine.open(column, figureId).then(
      (figure) => isCurrent && setOpened(figure),
      () => isCurrent && setOpened(null),
    );
    return () => {
      isCurrent = false;
    };
  }, [engine, column, figureId, answer]);
  return figureId !== null && opened?.id === figureId ? opened : null;
}

function inputsKey({ draft, drawing, book, post }: SheetInputs): string {
  return JSON.stringify([draft, drawing?.sha256 ?? null, drawing?.fileName ?? null, book.sha256, post.sha256]);
}
