import type { SheetAnswer } from '@gapwright/job';
import { memo, useCallback, useState } from 'react';
import { Button } from '../../kit/index.js';
import { Margin } from '../margin/margin.js';
import type { ShownPlace } from '../sheet-context.js';
import { DrawingColumn } from './drawing-column.js';

interface SideProps {
  readonly column: string | null;
  readonly answer: SheetAnswer | null;
  readonly toleranceMm: number | null;
  readonly shown: ShownPlace | null;
  readonly onPick: (place: ShownPlace | null) => void;
}

/** What stays in view beside the sheet: the drawing and the working of the figure in hand. */
export const Side = memo(function Side({ column, answer, toleranceMm, shown, onPick }: SideProps) {
  const [isFolded, setFolded] = useState(false);
  const problems = answer?.problems;
  const sentenceOf = useCallback((code: string) => problems?.find((p) => p.code === code)?.message ?? null, [problems]);
  return (
    <div className="sheet-side">
      <div className="sheet-picture no-print" data-folded={isFolded || undefined}>
        <div className="sheet-picture-fold">
          <Button look="plain" aria-expanded={!isFolded} onPress={() => setFolded(!isFolded)}>
            {isFolded ? 'Show the drawing' : 'Fold the drawing away'}
          </Button>
        </div>
        {isFolded ? null : (
          <DrawingColumn
            scene={answer?.scene ?? null}
            toleranceMm={toleranceMm}
            shown={shown}
            onPick={onPick}
            sentenceOf={sentenceOf}
          />
        )}
      </div>
      <Margin column={column} answer={answer} />
    </div>
  );
});
