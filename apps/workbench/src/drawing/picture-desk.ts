import type { Scene } from '@gapwright/job';
import Flatbush from 'flatbush';
import { paintEmphasis } from './paint-emphasis.js';
import { ErosionPainter, inkOf, type Sheet } from './paint-erosion.js';
import { type BoxedScene, boxScene, paintLines, type Tally } from './paint-lines.js';
import { fillPickIndex } from './pick-index.js';
import type { PictureEffort, PictureKind, PictureOrder } from './picture.js';

/** Small pictures follow the hand and go before large ones. */
const URGENCY: readonly PictureKind[] = ['emphasis', 'erosion', 'lines'];

export interface FinishedPicture {
  readonly scene: number;
  readonly order: PictureOrder;
  readonly sheet: Sheet;
  readonly effort: PictureEffort;
}

interface Job {
  readonly order: PictureOrder;
  readonly scene: number;
  readonly steps: Generator<void, void>;
  readonly sheet: Sheet;
  readonly tally: Tally;
  workMs: number;
}

/**
 * Makes pictures in small steps, in a worker or between frames of the page. Of each kind only the newest order is worked
 * on; an order that comes while an older one of its kind is being drawn takes its place.
 */
export class PictureDesk {
  private boxed: BoxedScene | null = null;
  private sceneNumber = 0;
  private readonly waiting = new Map<PictureKind, PictureOrder>();
  private readonly jobs = new Map<PictureKind, Job>();
  private readonly sheets = new Map<PictureKind, Sheet>();
  private erosion: ErosionPainter;

  /**
   * `keepsSheets`: the finished sheet may be drawn on again, because whoever takes the picture copies it;
   * else each picture gets a new one.
   */
  constructor(
    private readonly makeSheet: (width: number, height: number) => Sheet,
    private readonly keepsSheets: boolean,
    private readonly finish: (picture: FinishedPicture) => void,
  ) {
    this.erosion = new ErosionPainter(makeSheet);
  }

  setScene(number: number, scene: Scene): void {
    this.boxed = boxScene(scene);
    this.sceneNumber = number;
    this.erosion = new ErosionPainter(this.makeSheet);
    this.jobs.clear();
    this.waiting.clear();
  }

  /** The tree of boxes for picking, as bytes; null when there is nothing to pick. */
  pickIndex(): ArrayBuffer | null {
    return this.boxed === null ? null : fillPickIndex(Flatbush, this.boxed.scene);
  }

  order(order: PictureOrder): void {
    this.waiting.set(order.content.kind, order);
    this.jobs.delete(order.content.kind);
  }

  get hasWork(): boolean {
    return this.boxed !== null && (this.waiting.size > 0 || this.jobs.size > 0);
  }

  /** Works for about `budgetMs`; call again while there is work. */
  work(budgetMs: number): void {
    const until = performance.now() + budgetMs;
    while (performance.now() < until) {
      const job = this.nextJob();
      if (job === null) return;
      const started = performance.now();
      const isDone = job.steps.next().done === true;
      job.workMs += performance.now() - started;
      if (isDone) {
        this.jobs.delete(job.order.content.kind);
        this.finish({
          scene: job.scene,
          order: job.order,
          sheet: job.sheet,
          effort: { ...job.tally, workMs: job.workMs },
        });
      }
    }
  }

  private nextJob(): Job | null {
    if (this.boxed === null) return null;
    for (const kind of URGENCY) {
      const order = this.waiting.get(kind);
      if (order !== undefined) {
        this.waiting.delete(kind);
        this.jobs.set(kind, this.begin(order, this.boxed));
      }
      const job = this.jobs.get(kind);
      if (job !== undefined) return job;
    }
    return null;
  }

  private begin(order: PictureOrder, boxed: BoxedScene): Job {
    const { content, frame, colours } = order;
    const sheet = this.sheetFor(content.kind, frame.width, frame.height);
    const ink = inkOf(sheet);
    ink.globalAlpha = 1;
    ink.globalCompositeOperation = 'source-over';
    ink.clearRect(0, 0, frame.width, frame.height);
    const tally: Tally = { drawCalls: 0, penStrokes: 0 };
    const steps =
      content.kind === 'lines'
        ? paintLines(ink, boxed, frame, colours, content.withPasses, content.operation, tally)
        : content.kind === 'emphasis'
          ? paintEmphasis(ink, boxed, frame, colours, content, tally)
          : this.erosion.paint(ink, boxed.scene, frame, colours, content.operation, content.atMin, tally);
    return { order, scene: this.sceneNumber, steps, sheet, tally, workMs: 0 };
  }

  private sheetFor(kind: PictureKind, width: number, height: number): Sheet {
    const kept = this.sheets.get(kind);
    if (this.keepsSheets && kept !== undefined && kept.width === width && kept.height === height) return kept;
    const sheet = this.makeSheet(width, height);
    this.sheets.set(kind, sheet);
    return sheet;
  }
}
