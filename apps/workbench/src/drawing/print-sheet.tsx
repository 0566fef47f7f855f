import type { Scene } from '@gapwright/job';
import { useEffect, useRef } from 'react';
import type { LengthUnit } from '../units/length.js';
import { sceneSvg } from './scene-svg.js';
import type { DrawingShow } from './types.js';

export interface PrintSheetProps {
  readonly scene: Scene;
  readonly show: DrawingShow;
  readonly operation: number | null;
  readonly units: LengthUnit;
}

/** Takes the drawing's place on paper, as lines instead of pixels; made only when the page is printed. */
export function PrintSheet({ scene, show, operation, units }: PrintSheetProps) {
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const fill = (): void => {
      if (sheet.current === null) return;
      const text = sceneSvg(scene, {
        withPasses: show.passes,
        withMarks: show.marks,
        operation,
        units,
        title: 'Drawing of the part with its wire paths',
      });
      const parsed = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
      sheet.current.replaceChildren(document.importNode(parsed, true));
    };
    const empty = (): void => sheet.current?.replaceChildren();
    window.addEventListener('beforeprint', fill);
    window.addEventListener('afterprint', empty);
    return () => {
      window.removeEventListener('beforeprint', fill);
      window.removeEventListener('afterprint', empty);
    };
  }, [scene, show, operation, units]);
  return <div ref={sheet} className="drawing-print" />;
}
