import type { BurnContent } from '@gapwright/records';
import { useMemo, useState } from 'react';
import { Button, Choice, LengthEntry, NumberEntry, TextEntry } from '../kit/index.js';

interface BookIds {
  readonly materials: readonly { readonly id: string; readonly name: string }[];
  readonly wires: readonly { readonly id: string; readonly name: string }[];
  readonly wireMachines: readonly { readonly id: string; readonly name: string }[];
  readonly wireLevels: readonly { readonly level: number; readonly name: string }[];
}

type Draft = { readonly [K in keyof BurnContent]?: BurnContent[K] | null };

interface BurnFormProps {
  readonly book: unknown;
  /** The burn to correct; null for a new one. */
  readonly burn: BurnContent | null;
  readonly today: string;
  readonly onKeep: (content: BurnContent) => Promise<void>;
  readonly onClose: () => void;
}

/** One burn, entered or corrected. */
export function BurnForm({ book, burn, today, onKeep, onClose }: BurnFormProps) {
  const ids = book as BookIds;
  const [draft, setDraft] = useState<Draft>(burn ?? { day: today, note: '', jobId: null, operation: null });
  const [fault, setFault] = useState<string | null>(null);
  const missing = useMemo(() => missingWords(draft), [draft]);
  const set = (part: Draft): void => setDraft((d) => ({ ...d, ...part }));
  const options = (
    list: readonly { readonly id: string; readonly name: string }[],
    value: string | null | undefined,
  ) => {
    const known = list.map((x) => ({ value: x.id, label: x.id, says: x.name }));
    // A log may name what has left the book; a correction keeps it.
    return value == null || list.some((x) => x.id === value)
      ? known
      : [{ value, label: value, says: 'not in the book' }, ...known];
  };
  const keep = (): void => {
    if (missing !== null) {
      setFault(missing);
      return;
    }
    onKeep(draft as BurnContent).then(onClose, (error: unknown) =>
      setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <>
      <div className="burns-form">
        <TextEntry label="Day (year-month-day)" value={draft.day ?? ''} onCommit={(day) => set({ day: day.trim() })} />
        <Choice
          label="Machine"
          value={draft.machine ?? null}
          options={options(ids.wireMachines, draft.machine)}
          onChoose={(machine) => set({ machine })}
        />
        <Choice
          label="Material"
          value={draft.material ?? null}
          options={options(ids.materials, draft.material)}
          onChoose={(material) => set({ material })}
        />
        <Choice
          label="Wire"
          value={draft.wire ?? null}
          options={options(ids.wires, draft.wire)}
          onChoose={(wire) => set({ wire })}
        />
        <LengthEntry
          label="Height"
          value={draft.heightMm ?? null}
          min={0.01}
          max={1000}
          onCommit={(heightMm) => set({ heightMm })}
        />
        <Choice
          label="Energy level"
          value={draft.level == null ? null : String(draft.level)}
          options={ids.wireLevels.map((l) => ({ value: String(l.level), label: `${l.level} ${l.name}` }))}
          onChoose={(level) => set({ level: Number(level) })}
        />
        <NumberEntry
          label="Expected"
          unit="min"
          value={draft.predictedMin ?? null}
          min={0.01}
          onCommit={(predictedMin) => set({ predictedMin })}
        />
        <NumberEntry
          label="Actual"
          unit="min"
          value={draft.actualMin ?? null}
          min={0.01}
          onCommit={(actualMin) => set({ actualMin })}
        />
        <TextEntry label="Note" value={draft.note ?? ''} maxLetters={300} onCommit={(note) => set({ note })} />
      </div>
      <p className="kit-hint">
        “Expected” is the burning time the plan gave for this level, before the burn. Interruptions belong in the note.
      </p>
      {fault === null ? null : (
        <p className="kit-fault" role="alert">
          {fault}
        </p>
      )}
      <div className="burns-actions">
        <Button look="main" onPress={keep}>
          {burn === null ? 'Keep the burn' : 'Keep the correction'}
        </Button>
        <Button onPress={onClose}>Put it away</Button>
      </div>
    </>
  );
}

const NAMES = {
  day: 'the day',
  machine: 'the machine',
  material: 'the material',
  wire: 'the wire',
  heightMm: 'the height',
  level: 'the energy level',
  predictedMin: 'what was expected',
  actualMin: 'what it took',
} as const;

/** What is still needed, as one sentence; null when nothing is. */
export function missingWords(draft: Draft): string | null {
  const open = (Object.keys(NAMES) as (keyof typeof NAMES)[]).filter((k) => draft[k] == null || draft[k] === '');
  if (open.length > 0) return `Still needed: ${open.map((k) => NAMES[k]).join(', ')}.`;
  const day = String(draft.day);
  const date = /^\d{4}-\d{2}-\d{2}$/.test(day) ? new Date(`${day}T00:00:00Z`) : null;
  if (date === null || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== day) {
    return `“${day}” is not a day. Write it as 2026-11-25.`;
  }
  return null;
}
