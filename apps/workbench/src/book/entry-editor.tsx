import { Button, Choice, NumberEntry, TextEntry } from '../kit/index.js';
import { parseNumber } from '../units/index.js';
import { Z_80 } from '../units/interval.js';
import { doubtWords, logSdOfPercent, percentOfLogSd, placeWords } from './book-changes.js';
import type { BookField } from './fields.js';
import { getAt, type JsonPath } from './json-path.js';

interface Quantity {
  readonly value: number;
  readonly source: string;
  readonly logSd?: number;
  readonly note?: string;
}

export interface EntryEditorProps {
  readonly book: unknown;
  readonly path: JsonPath;
  readonly field: BookField;
  readonly onEdit: (path: JsonPath, value: unknown) => void;
}

/** One entry of the book, open for editing: its value, where it comes from and how far it may be off. */
export function EntryEditor({ book, path, field, onEdit }: EntryEditorProps) {
  const value = getAt(book, path);
  return (
    <section className="book-entry" aria-label={placeWords(path, book)}>
      <h3>{placeWords(path, book)}</h3>
      {field.says === undefined ? null : <p className="kit-hint">{field.says}</p>}
      {field.kind === 'quantity' ? (
        <QuantityEditor {...{ book, path, field, onEdit }} quantity={value as Quantity | null} />
      ) : (
        <PlainEditor {...{ book, path, field, onEdit }} value={value} />
      )}
    </section>
  );
}

function sourceOptions(book: unknown) {
  const sources = getAt(book, ['sources']);
  return (Array.isArray(sources) ? sources : []).map(
    (s: { id: string; title: string; standing: string; where?: string }) => ({
      value: s.id,
      label: s.title,
      says: `${s.standing}${s.where === undefined ? '' : `: ${s.where}`}`,
    }),
  );
}

function QuantityEditor({
  book,
  path,
  field,
  onEdit,
  quantity,
}: EntryEditorProps & { readonly quantity: Quantity | null }) {
  if (quantity === null || quantity === undefined) {
    return (
      <>
        <p>Not stated.</p>
        <NumberEntry
          label={field.label}
          value={null}
          {...(field.unit === undefined ? {} : { unit: field.unit })}
          onCommit={(value) => value !== null && onEdit(path, { value, source: sourceOptions(book)[0]?.value ?? '' })}
          mayBeEmpty
        />
      </>
    );
  }
  const set = (part: Partial<Record<keyof Quantity, unknown>>): void => {
    const next = { ...quantity, ...part };
    onEdit(path, Object.fromEntries(Object.entries(next).filter(([, v]) => v !== undefined && v !== '')));
  };
  return (
    <>
      <NumberEntry
        key={`${path.join('.')}-value`}
        label="Value"
        value={quantity.value}
        {...(field.unit === undefined ? {} : { unit: field.unit })}
        onCommit={(value) => value !== null && set({ value })}
      />
      <NumberEntry
        label="May be off by (80 % of cases)"
        value={quantity.logSd === undefined || quantity.logSd === 0 ? 0 : percentOfLogSd(quantity.logSd)}
        min={0}
        max={500}
        unit="%"
        onCommit={(percent) =>
          set({ logSd: percent === null || percent === 0 ? undefined : logSdOfPercent(percent), value: quantity.value })
        }
      />
      {quantity.logSd === undefined || quantity.logSd === 0 ? (
        <p className="kit-hint">Taken as exact.</p>
      ) : (
        <p className="kit-hint">
          {doubtWords(quantity.logSd)}: about 8 times in 10 between {range(quantity.value, -quantity.logSd)} and{' '}
          {range(quantity.value, quantity.logSd)}
          {field.unit === undefined ? '' : ` ${field.unit}`}.
        </p>
      )}
      <Choice
        label="Source"
        value={quantity.source}
        options={sourceOptions(book)}
        onChoose={(source) => set({ source })}
      />
      <TextEntry
        label="Note"
        value={quantity.note ?? ''}
        maxLetters={500}
        lines={2}
        onCommit={(note) => set({ note })}
      />
      {field.mayBeEmpty ? (
        <Button look="plain" onPress={() => onEdit(path, null)}>
          Not stated
        </Button>
      ) : null}
    </>
  );
}

function range(value: number, logSd: number): string {
  return String(Number((value * Math.exp(Z_80 * logSd)).toPrecision(3)));
}

function PlainEditor({ book, path, field, onEdit, value }: EntryEditorProps & { readonly value: unknown }) {
  const unit = field.unit === undefined ? {} : { unit: field.unit };
  const set = (next: unknown): void => onEdit(path, next);
  switch (field.kind) {
    case 'plain':
    case 'count':
      return (
        <NumberEntry
          label={field.label}
          value={typeof value === 'number' ? value : null}
          {...unit}
          {...(field.kind === 'count' ? { decimals: 0 } : {})}
          onCommit={(next) => next !== null && set(next)}
        />
      );
    case 'yes or no':
      return (
        <Choice
          label={field.label}
          value={value === true ? 'yes' : 'no'}
          options={[
            { value: 'yes', label: 'yes' },
            { value: 'no', label: 'no' },
          ]}
          onChoose={(next) => set(next === 'yes')}
        />
      );
    case 'choice':
      return (
        <Choice
          label={field.label}
          value={String(value)}
          options={(field.choices ?? []).map((c) => ({ value: c, label: c }))}
          onChoose={set}
        />
      );
    case 'source':
      return <Choice label={field.label} value={String(value)} options={sourceOptions(book)} onChoose={set} />;
    case 'numbers':
    case 'words':
      return (
        <ListEntry
          label={field.label}
          value={Array.isArray(value) ? value : []}
          isNumbers={field.kind === 'numbers'}
          {...unit}
          onCommit={set}
        />
      );
    default:
      return (
        <TextEntry
          label={field.label}
          value={typeof value === 'string' ? value : ''}
          maxLetters={500}
          {...(field.kind === 'text' ? { lines: 2 } : {})}
          onCommit={(next) => set(next === '' && field.mayBeEmpty ? undefined : next)}
        />
      );
  }
}

interface ListEntryProps {
  readonly label: string;
  readonly value: readonly unknown[];
  readonly isNumbers: boolean;
  readonly unit?: string;
  readonly onCommit: (value: unknown) => void;
}

function ListEntry({ label, value, isNumbers, unit, onCommit }: ListEntryProps) {
  return (
    <TextEntry
      label={label}
      value={value.join(isNumbers ? '; ' : ', ')}
      hint={isNumbers ? 'Semicolons between the numbers.' : 'Commas between the entries.'}
      {...(unit === undefined ? {} : { unit })}
      lines={2}
      onCommit={(text) => {
        const parts = text
          .split(isNumbers ? ';' : ',')
          .map((p) => p.trim())
          .filter((p) => p !== '');
        if (!isNumbers) return onCommit(parts);
        // What is no number stays as text, so that the check of the book names it.
        onCommit(
          parts.map((p) => {
            const number = parseNumber(p);
            return 'value' in number ? number.value : p;
          }),
        );
      }}
    />
  );
}
