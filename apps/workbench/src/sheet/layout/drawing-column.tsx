import type { Scene } from '@gapwright/job';
import { lazy, Suspense, useMemo } from 'react';
import type { DrawingSelection } from '../../drawing/index.js';
import { useDisplay } from '../../units/index.js';
import type { ShownPlace } from '../sheet-context.js';

// The sheet can be read before the pane that draws is loaded.
const DrawingPane = lazy(() => import('../../drawing/index.js').then((m) => ({ default: m.DrawingPane })));

interface DrawingColumnProps {
  readonly scene: Scene | null;
  readonly toleranceMm: number | null;
  readonly shown: ShownPlace | null;
  readonly onPick: (place: ShownPlace | null) => void;
  readonly sentenceOf: (problemCode: string, mark: string) => string | null;
}

/** The drawing beside the sheet. */
export function DrawingColumn({ scene, toleranceMm, shown, onPick, sentenceOf }: DrawingColumnProps) {
  const { unit } = useDisplay();
  const selection = useMemo((): DrawingSelection | null => {
    if (shown === null) return null;
    const { feature, mark, problemCode } = shown;
    if (feature === undefined && mark === undefined && problemCode === undefined) return null;
    return {
      ...(feature === undefined ? {} : { feature }),
      ...(mark === undefined ? {} : { mark }),
      ...(problemCode === undefined ? {} : { problemCode }),
    };
  }, [shown]);
  const focusAt = useMemo(
    () => (shown?.xMm === undefined || shown.yMm === undefined ? null : { x: shown.xMm, y: shown.yMm }),
    [shown],
  );
  return (
    <Suspense fallback={<p className="sheet-soft">Laying out the drawing …</p>}>
      <DrawingPane
        scene={scene}
        selection={selection}
        onSelect={onPick}
        focusAt={focusAt}
        operation={null}
        units={unit}
        toleranceMm={toleranceMm}
        sentenceOf={sentenceOf}
      />
    </Suspense>
  );
}
