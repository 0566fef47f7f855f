import '../src/look/tokens.css';
import '../src/look/base.css';
import '../src/kit/kit.css';
import './drawing-bench.css';
import type { Scene } from '@gapwright/job';
import { useState } from 'react';
import { createRoot } from 'react-dom/client';
import { DrawingPane, type DrawingSelection } from '../src/drawing/index.js';
import type { LengthUnit } from '../src/units/length.js';
import { gridScene, plateScene, walkScene } from './drawing-bench-scenes.js';

/** What the page hands to the measuring script. */
export interface Measured {
  readonly costs: { readonly what: string; readonly ms: number }[];
  readonly painted: {
    readonly kind: string;
    readonly atMs: number;
    readonly drawCalls: number;
    readonly penStrokes: number;
    readonly workMs: number;
  }[];
  readonly longTasks: { readonly startMs: number; readonly ms: number }[];
  openedAtMs: number;
  open: (segments: number) => void;
}

const measured: Measured = { costs: [], painted: [], longTasks: [], openedAtMs: 0, open: () => {} };
Object.assign(window, { measured });
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) measured.longTasks.push({ startMs: entry.startTime, ms: entry.duration });
}).observe({ type: 'longtask', buffered: true });

const asked = new URLSearchParams(location.search);
const SENTENCE =
  'Inside corner at (1.20, 0.00) has radius 0.10 mm; the 0.25 mm wire leaves 0.18 mm. Take the 0.10 mm wire, or ask for R0.20.';

function firstScene(): Scene | null {
  switch (asked.get('scene')) {
    case 'plate':
      return plateScene();
    case 'walk':
      return walkScene(Number(asked.get('moves') ?? 5000));
    case 'grid':
      return gridScene(Number(asked.get('segments') ?? 1000));
    default:
      return null;
  }
}

function Bench() {
  const [scene, setScene] = useState<Scene | null>(firstScene);
  const [selection, setSelection] = useState<DrawingSelection | null>(null);
  measured.open = (segments) => {
    const made = gridScene(segments);
    measured.openedAtMs = performance.now();
    setScene(made);
  };
  return (
    <div className="drawing-bench">
      <DrawingPane
        scene={scene}
        selection={selection}
        onSelect={setSelection}
        focusAt={null}
        operation={null}
        units={(asked.get('units') ?? 'mm') as LengthUnit}
        toleranceMm={0.004}
        initialShow={{ erosion: asked.has('erosion') }}
        sentenceOf={(code) => (code === 'WIRE-RADIUS-TOO-SMALL' ? SENTENCE : null)}
        onCost={(what, ms) => measured.costs.push({ what, ms })}
        onPainted={(kind, effort) => measured.painted.push({ kind, atMs: performance.now(), ...effort })}
      />
    </div>
  );
}

createRoot(document.getElementById('root')!).render(<Bench />);
