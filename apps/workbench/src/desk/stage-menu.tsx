import { lazy, Suspense, useState } from 'react';
import type { StageMenuProps } from './open-stage-menu.js';

// Menus are a large part of the component library; the desk is there before it.
const OpenStageMenu = lazy(() => import('./open-stage-menu.js'));

/** Moves a job to what it waits for next; the natural step stands first. */
export function StageMenu(props: StageMenuProps) {
  const [isWanted, setWanted] = useState(false);
  const button = (
    <button
      type="button"
      className="kit-button kit-button-quiet desk-move"
      aria-label={`Move on: ${props.title}`}
      aria-haspopup="menu"
      onClick={() => setWanted(true)}
    >
      Move on <span aria-hidden="true">▾</span>
    </button>
  );
  return isWanted ? (
    <Suspense fallback={button}>
      <OpenStageMenu {...props} />
    </Suspense>
  ) : (
    button
  );
}
