import { type RefObject, useEffect, useRef, useState } from 'react';
import { Playhead } from './playhead.js';
import { Stage, type StageEvents } from './stage.js';

/** A stage in an element for as long as the component is on the page, with the playhead it follows. */
export function useStage(
  host: RefObject<HTMLDivElement | null>,
  events: StageEvents,
): { readonly stage: RefObject<Stage | null>; readonly playhead: Playhead } {
  const [playhead] = useState(() => new Playhead());
  const stage = useRef<Stage | null>(null);
  const latest = useRef(events);
  latest.current = events;
  useEffect(() => {
    if (host.current === null) return;
    const made = new Stage(host.current, playhead, {
      hovered: (...facts) => latest.current.hovered(...facts),
      looked: (facts) => latest.current.looked(facts),
      painted: (...facts) => latest.current.painted(...facts),
      cost: (...facts) => latest.current.cost(...facts),
    });
    stage.current = made;
    return () => {
      stage.current = null;
      playhead.pause();
      made.destroy();
    };
  }, [host, playhead]);
  return { stage, playhead };
}
