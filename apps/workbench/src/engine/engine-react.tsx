import type { OpenedFigure } from '@gapwright/job';
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react';
import type { Engine } from './engine.js';

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
