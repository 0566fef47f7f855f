import type { SceneWalk } from '@gapwright/job';
import { type KeyboardEvent, useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { Button, Choice } from '../kit/index.js';
import type { Playhead } from './playhead.js';
import { clockText, lineAtPlace, nextLineMin, nextStop, placeAt, previousLineMin, walkEndMin } from './walk.js';

export interface ScrubberProps {
  readonly playhead: Playhead;
  readonly walk: SceneWalk;
  /** Somebody touched it: the erosion is to be shown. */
  readonly onUse: () => void;
}

/** The whole program in this many seconds, on the quickest choice. */
const WHOLE_S = 30;
const SPEEDS = [
  { value: 'whole', label: `whole cut in ${WHOLE_S} s` },
  { value: '10', label: '10 min per second' },
  { value: '1', label: '1 min per second' },
  { value: '0.1', label: '6 s per second' },
  { value: 'real', label: 'as it burns' },
] as const;

function speedOf(value: string, endMin: number): number {
  if (value === 'whole') return endMin / WHOLE_S;
  if (value === 'real') return 1 / 60;
  return Number(value);
}

/** Runs through the program by burning time: to and fro, by line, and from touch to touch. */
export function Scrubber({ playhead, walk, onUse }: ScrubberProps) {
  const isPlaying = useSyncExternalStore(
    (changed) => playhead.subscribe(changed),
    () => playhead.isPlaying,
  );
  const bar = useRef<HTMLInputElement>(null);
  const clock = useRef<HTMLOutputElement>(null);
  const stopText = useRef<HTMLParagraphElement>(null);
  const [speed, setSpeed] = useState<string>('whole');
  const endMin = walkEndMin(walk);

  useEffect(() => {
    playhead.speed = speedOf(speed, endMin);
  }, [playhead, speed, endMin]);

  useEffect(() => {
    const follow = (): void => {
      const { atMin } = playhead;
      const line = lineAtPlace(walk, placeAt(walk, atMin));
      const text = `${clockText(atMin)} of ${clockText(endMin)}${line === null ? '' : `, program line ${line}`}`;
      if (bar.current !== null) {
        bar.current.value = String(atMin);
        bar.current.setAttribute('aria-valuetext', text);
      }
      if (clock.current !== null) clock.current.textContent = text;
      const near = walk.stops.find((s) => Math.abs(s.atMin - atMin) < 1e-6);
      const next = near ?? nextStop(walk, atMin, 1);
      if (stopText.current !== null) {
        stopText.current.textContent =
          next === null
            ? 'No more touches.'
            : near !== undefined
              ? `Touch now: ${next.says}`
              : `Next touch at ${clockText(next.atMin)}: ${next.says}`;
      }
    };
    follow();
    return playhead.subscribe(follow);
  }, [playhead, walk, endMin]);

  const goTo = (minute: number | undefined): void => {
    if (minute === undefined) return;
    onUse();
    playhead.pause();
    playhead.goTo(minute);
  };
  const toggle = (): void => {
    onUse();
    if (playhead.isPlaying) playhead.pause();
    else playhead.play();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === ' ') toggle();
    else if (event.key === '.') goTo(nextLineMin(walk, playhead.atMin));
    else if (event.key === ',') goTo(previousLineMin(walk, playhead.atMin));
    else if (event.key === 't') goTo(nextStop(walk, playhead.atMin, 1)?.atMin);
    else if (event.key === 'T') goTo(nextStop(walk, playhead.atMin, -1)?.atMin);
    else return;
    event.preventDefault();
  };

  return (
    <section className="drawing-scrubber" aria-label="Erosion along the program">
      <div className="drawing-scrubber-row">
        <Button onPress={toggle}>{isPlaying ? 'Pause' : 'Run'}</Button>
        <div className="drawing-track">
          <input
            ref={bar}
            className="drawing-range"
            type="range"
            min={0}
            max={endMin}
            step={endMin / 2000 || 1}
            defaultValue={0}
            aria-label="Burning time"
            onInput={(event) => goTo(Number(event.currentTarget.value))}
            onKeyDown={onKeyDown}
          />
          <div className="drawing-stops" aria-hidden="true">
            {walk.stops.map((stop) => (
              <span
                key={`${stop.atMin}:${stop.line}:${stop.says}`}
                className="drawing-stop"
                style={{ left: `${endMin === 0 ? 0 : (stop.atMin / endMin) * 100}%` }}
              />
            ))}
          </div>
        </div>
        <output ref={clock} className="drawing-clock" aria-live="off" />
      </div>
      <div className="drawing-scrubber-row">
        <Button onPress={() => goTo(previousLineMin(walk, playhead.atMin))}>Line back</Button>
        <Button onPress={() => goTo(nextLineMin(walk, playhead.atMin))}>Line on</Button>
        <Button onPress={() => goTo(nextStop(walk, playhead.atMin, -1)?.atMin)} isDisabled={walk.stops.length === 0}>
          Touch back
        </Button>
        <Button onPress={() => goTo(nextStop(walk, playhead.atMin, 1)?.atMin)} isDisabled={walk.stops.length === 0}>
          Touch on
        </Button>
        <Choice label="Pace" hideLabel value={speed} options={SPEEDS} onChoose={setSpeed} />
        <p ref={stopText} className="drawing-next-touch" />
      </div>
    </section>
  );
}
