import './burns.css';
import type { Problem } from '@gapwright/base';
import type { BurnContent } from '@gapwright/records';
import { useState } from 'react';
import { FileTrigger } from 'react-aria-components';
import demoLogUrl from '../../../../demo/burn-log.csv?url';
import { dayOf } from '../desk/due.js';
import { useEngine } from '../engine/index.js';
import { useBook, useBurns, useKeepingActions } from '../keeping/index.js';
import { Button, Mark, ProblemLine, SheetDialog } from '../kit/index.js';
import { BurnForm } from './burn-form.js';
import { CalibrationPlot, CoveragePlot, DriftPlot } from './burn-plots.js';
import { BurnTable } from './burn-table.js';
import { LearntSection } from './learnt-section.js';
import { useLogSummary } from './use-summary.js';

/** How good the estimates are, and what the shop's own burns teach the book. */
export function BurnLogPlace() {
  const engine = useEngine();
  const actions = useKeepingActions();
  const records = useBurns();
  const book = useBook('shop-book');
  const { seen, summary, isWorking, fault } = useLogSummary(records, book);
  const [form, setForm] = useState<{ readonly id: string | null; readonly burn: BurnContent | null } | null>(null);
  const [said, setSaid] = useState<{ readonly words: string; readonly problems: readonly Problem[] } | null>(null);
  const [struck, setStruck] = useState<BurnContent | null>(null);

  const take = async (bytes: Uint8Array, fileName: string): Promise<void> => {
    const { contents, problems } = await engine.importBurns(bytes, fileName);
    if (contents.length > 0) await actions.addBurns(contents);
    setSaid({
      words:
        contents.length === 0
          ? `No burn of ${fileName} could be taken.`
          : `${contents.length} burns taken from ${fileName}.`,
      problems,
    });
  };
  const tell = (error: unknown): void =>
    setSaid({ words: error instanceof Error ? error.message : String(error), problems: [] });
  const takeFile = (files: FileList | null): void => {
    const file = files?.[0];
    if (file === undefined) return;
    file
      .arrayBuffer()
      .then((buffer) => take(new Uint8Array(buffer), file.name))
      .catch(tell);
  };
  const takeDemo = (): void => {
    fetch(demoLogUrl)
      .then((answer) => answer.arrayBuffer())
      .then((buffer) => take(new Uint8Array(buffer), 'burn-log.csv (invented)'))
      .catch(tell);
  };
  const strike = (id: string): void => {
    const burn = seen.find((b) => b.id === id);
    actions.strikeBurn(id).then(() => setStruck(burn?.content ?? null), tell);
  };
  const learnt = summary?.summary ?? null;

  return (
    <div className="burns">
      <header className="burns-head">
        <div>
          <h1>Burn log</h1>
          <p>
            {seen.length === 0
              ? 'What burns really took, beside what was expected. It tells how far the estimates can be trusted, and teaches the shop book.'
              : `${seen.length} burns, ${learnt?.from} to ${learnt?.to}. Each was forecast from the burns before it.`}
          </p>
          {isWorking && records.length > 0 ? (
            <p aria-live="polite">
              <Mark kind="open">Being summed up</Mark>
            </p>
          ) : null}
          {fault === null ? null : (
            <p role="alert" className="kit-fault">
              {fault}
            </p>
          )}
        </div>
        <div className="burns-actions no-print">
          <Button look="main" onPress={() => setForm({ id: null, burn: null })}>
            Enter a burn
          </Button>
          <FileTrigger acceptedFileTypes={['.csv', '.xlsx']} onSelect={takeFile}>
            <Button>Import a table</Button>
          </FileTrigger>
        </div>
      </header>

      {said === null ? null : (
        <div role="status">
          <p>{said.words}</p>
          <ul>
            {said.problems.map((p) => (
              <ProblemLine key={`${p.code}${p.message}`} problem={p} />
            ))}
          </ul>
        </div>
      )}
      {struck === null ? null : (
        <p role="status">
          The burn of {struck.day} on {struck.machine} is struck.{' '}
          <Button
            look="plain"
            onPress={() => {
              actions.addBurns([struck]).then(() => setStruck(null), tell);
            }}
          >
            Take it back in
          </Button>
        </p>
      )}

      {seen.length === 0 ? (
        isWorking && records.length > 0 ? null : (
          <section className="burns-section">
            <h2>Nothing logged yet</h2>
            <p>
              Until burns are logged, every plan rests on starting values from published ranges and common practice.
              Enter the first one, or import a table with columns such as date, material, machine, wire, height_mm,
              level, predicted_min and actual_min.
            </p>
            <Button onPress={takeDemo}>Take the demo log (invented)</Button>
          </section>
        )
      ) : (
        <>
          <div className="burns-plots">
            <CalibrationPlot burns={seen} />
            <CoveragePlot burns={seen} />
            <DriftPlot burns={seen} alarms={(learnt?.alarms ?? []).map((a) => ({ machine: a.machine, day: a.date }))} />
          </div>
          {summary === null ? null : <LearntSection summary={summary} book={book} />}
          <section className="burns-section">
            <h2>Burns</h2>
            <BurnTable
              burns={seen}
              onStrike={strike}
              onCorrect={(id) => setForm({ id, burn: seen.find((b) => b.id === id)?.content ?? null })}
            />
          </section>
        </>
      )}
      <SheetDialog
        title={form?.id == null ? 'Enter a burn' : 'Correct a burn'}
        isOpen={form !== null}
        onClose={() => setForm(null)}
      >
        {form === null ? null : (
          <BurnForm
            book={book.json}
            burn={form.burn}
            today={dayOf(new Date())}
            onClose={() => setForm(null)}
            onKeep={(content) =>
              form.id === null ? actions.addBurns([content]) : actions.correctBurn(form.id, content)
            }
          />
        )}
      </SheetDialog>
    </div>
  );
}
