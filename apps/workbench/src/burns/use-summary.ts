import type { BurnSummary } from '@gapwright/job';
import type { KeptBurnRecord } from '@gapwright/records';
import { useEffect, useMemo, useState } from 'react';
import { useEngine } from '../engine/index.js';
import type { HeldBook } from '../keeping/index.js';
import type { SeenBurn } from './seen-burn.js';

export interface LogState {
  /** Burns in use, in the order of their days, with the forecast each had. */
  readonly seen: readonly SeenBurn[];
  readonly summary: BurnSummary | null;
  readonly isWorking: boolean;
  readonly fault: string | null;
}

/** The log lived through once in a worker: each burn forecast from those before it. */
export function useLogSummary(records: readonly KeptBurnRecord[], book: HeldBook): LogState {
  const engine = useEngine();
  // An entry never changes, so its id says all; that it was sent meanwhile makes no new question.
  const key = records.map((r) => (r.isInUse && r.content !== null ? r.id : '')).join(' ');
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the records
  const inUse = useMemo(() => records.filter((r) => r.isInUse && r.content !== null), [key]);
  const [result, setResult] = useState<{ readonly of: unknown; readonly summary: BurnSummary } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    let isWanted = true;
    engine
      .summariseBurns(
        inUse.map((r) => r.content!),
        book.json,
      )
      .then(
        (summary) => {
          if (!isWanted) return;
          setFault(null);
          setResult({ of: inUse, summary });
        },
        (error: unknown) => isWanted && setFault(error instanceof Error ? error.message : String(error)),
      );
    return () => {
      isWanted = false;
    };
  }, [engine, inUse, book.json]);
  const summary = result?.of === inUse ? result.summary : null;
  const seen = useMemo(
    () =>
      (summary?.seen ?? []).map((s): SeenBurn => {
        const record = inUse[s.index]!;
        const { forecastMin, low80Min, high80Min, isIn80, isIn95 } = s;
        return { id: record.id, content: record.content!, forecastMin, low80Min, high80Min, isIn80, isIn95 };
      }),
    [summary, inUse],
  );
  return { seen, summary, isWorking: summary === null && fault === null, fault };
}
