import type { SceneWalk } from '@gapwright/job';
import { walkEndMin } from './walk.js';

/** How fast the erosion runs: burning minutes per second of watching. */
export type PlaySpeed = number;

/**
 * The moment of the program that is shown. Kept outside of React: while it runs it moves sixty times a second, and only the
 * bar, the readout and the picture follow.
 */
export class Playhead {
  private minute = 0;
  private playing = false;
  private lastFrameMs = 0;
  private frameRequest = 0;
  private readonly listeners = new Set<() => void>();
  private shownWalk: SceneWalk | null = null;
  /** Burning minutes per second. */
  speed: PlaySpeed = 1;

  get atMin(): number {
    return this.minute;
  }

  get isPlaying(): boolean {
    return this.playing;
  }

  get walk(): SceneWalk | null {
    return this.shownWalk;
  }

  get endMin(): number {
    return this.shownWalk === null ? 0 : walkEndMin(this.shownWalk);
  }

  setWalk(walk: SceneWalk | null): void {
    if (walk === this.shownWalk) return;
    this.shownWalk = walk;
    this.pause();
    this.minute = Math.min(this.minute, this.endMin);
    this.tell();
  }

  /** Goes to a minute of the program. */
  goTo(minute: number): void {
    const next = Math.min(this.endMin, Math.max(0, minute));
    if (next === this.minute) return;
    this.minute = next;
    this.tell();
  }

  /** Runs on; from the start again when it stands at the end. */
  play(): void {
    if (this.playing || this.endMin === 0) return;
    if (this.minute >= this.endMin) this.minute = 0;
    this.playing = true;
    this.lastFrameMs = performance.now();
    this.frameRequest = requestAnimationFrame(this.frame);
    this.tell();
  }

  pause(): void {
    if (!this.playing) return;
    this.playing = false;
    cancelAnimationFrame(this.frameRequest);
    this.tell();
  }

  /** Calls back after every change; returns what ends that. */
  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private readonly frame = (nowMs: number): void => {
    if (!this.playing) return;
    // A hidden page gives no frames; the pause then is not made up for.
    const seconds = Math.min(0.1, Math.max(0, (nowMs - this.lastFrameMs) / 1000));
    this.lastFrameMs = nowMs;
    this.minute = Math.min(this.endMin, this.minute + seconds * this.speed);
    if (this.minute >= this.endMin) this.playing = false;
    else this.frameRequest = requestAnimationFrame(this.frame);
    this.tell();
  };

  private tell(): void {
    for (const listener of [...this.listeners]) listener();
  }
}
