import type { JobStage } from '@gapwright/records';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import type { DeskRow } from './groups.js';
import type { KnownAnswer } from './known-answer.js';
import { usePrinting } from './printing.js';
import type { SlipJob } from './slip.js';
import { SlipLine } from './slip-line.js';
import { STAGE_WORDS } from './stages.js';

/** Heights before a row was measured, px. */
const HEADING_PX = 58;
const SLIP_PX = 74;
/** Rows drawn beyond the window, so that a quick scroll meets no blank. */
const BEYOND = 10;

interface SlipListProps {
  readonly rows: readonly DeskRow<SlipJob>[];
  readonly known: ReadonlyMap<string, KnownAnswer>;
  readonly today: string;
  readonly onMove: (job: SlipJob, stage: JobStage) => void;
  readonly onFold: (stage: JobStage) => void;
}

/** The slips under their headings; only those in view are drawn. Up and down arrows walk from slip to slip. */
export function SlipList({ rows, known, today, onMove, onFold }: SlipListProps) {
  const list = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const isPrinting = usePrinting();
  useLayoutEffect(() => {
    const now = list.current === null ? 0 : list.current.getBoundingClientRect().top + window.scrollY;
    if (Math.abs(now - top) > 1) setTop(now);
  });
  const virtual = useWindowVirtualizer({
    count: rows.length,
    estimateSize: (index) => (rows[index]?.kind === 'heading' ? HEADING_PX : SLIP_PX),
    getItemKey: (index) => {
      const row = rows[index]!;
      return row.kind === 'heading' ? row.stage : row.job.jobId;
    },
    overscan: BEYOND,
    scrollMargin: top,
  });

  const walk = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (!(event.target instanceof Element) || !event.target.matches('.desk-slip-link, .desk-fold')) return;
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (step === 0) return;
    event.preventDefault();
    const from = Number(event.target.closest('[data-index]')?.getAttribute('data-index'));
    const to = from + step;
    if (to < 0) document.querySelector<HTMLElement>('.desk-search')?.focus();
    if (to < 0 || to >= rows.length) return;
    virtual.scrollToIndex(to, { align: 'auto' });
    // The row may have to be drawn first.
    requestAnimationFrame(() =>
      list.current
        ?.querySelector<HTMLElement>(`[data-index="${to}"] :is(.desk-slip-link, .desk-fold)`)
        ?.focus({ preventScroll: true }),
    );
  };

  const content = (row: DeskRow<SlipJob>): ReactNode =>
    row.kind === 'heading' ? (
      <h2 className="desk-heading">
        <button type="button" className="desk-fold" aria-expanded={!row.isFolded} onClick={() => onFold(row.stage)}>
          <span aria-hidden="true" className="desk-fold-sign">
            {row.isFolded ? '▸' : '▾'}
          </span>
          {STAGE_WORDS[row.stage].heading} <span className="desk-count">{row.count}</span>
        </button>
      </h2>
    ) : (
      <SlipLine job={row.job} known={known.get(row.job.jobId)} today={today} onMove={onMove} />
    );

  if (isPrinting)
    return (
      <div>
        {rows.map((row) => (
          <div key={row.kind === 'heading' ? row.stage : row.job.jobId}>{content(row)}</div>
        ))}
      </div>
    );
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: arrows only add to what Tab does; every row has its own link.
    <div ref={list} className="desk-list" style={{ height: virtual.getTotalSize() }} onKeyDown={walk}>
      {virtual.getVirtualItems().map((item) => (
        <div
          key={item.key}
          ref={virtual.measureElement}
          data-index={item.index}
          className="desk-row"
          style={{ transform: `translateY(${item.start - virtual.options.scrollMargin}px)` }}
        >
          {content(rows[item.index]!)}
        </div>
      ))}
    </div>
  );
}
