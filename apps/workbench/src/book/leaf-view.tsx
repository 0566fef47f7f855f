import { type KeyboardEvent, useRef } from 'react';
import { Button } from '../kit/index.js';
import { rowName, valueWords } from './book-changes.js';
import type { BookField, BookLeaf } from './fields.js';
import { getAt, type JsonPath, pathWords } from './json-path.js';

export interface OpenEntry {
  readonly path: JsonPath;
  readonly field: BookField;
}

export interface LeafViewProps {
  readonly leaf: BookLeaf;
  readonly book: unknown;
  readonly open: OpenEntry | null;
  readonly onOpen: (entry: OpenEntry) => void;
  readonly onEdit: (path: JsonPath, value: unknown) => void;
  /** Paths (as words) of entries with a problem. */
  readonly faulty: ReadonlySet<string>;
  readonly changed: (path: JsonPath) => boolean;
}

interface Row {
  readonly name: string;
  readonly cells: readonly OpenEntry[];
  readonly remove: (() => void) | null;
}

/** One leaf of the book as a table. Arrow keys walk over the entries; Enter opens one for editing. */
export function LeafView(props: LeafViewProps) {
  const { leaf, book, onEdit } = props;
  const table = useRef<HTMLTableElement>(null);
  const rows = rowsOf(leaf, book, onEdit);
  const isMatrix = leaf.shape === 'list';
  const onKeyDown = (event: KeyboardEvent<HTMLTableElement>): void => {
    const step = { ArrowRight: [0, 1], ArrowLeft: [0, -1], ArrowDown: [1, 0], ArrowUp: [-1, 0] }[event.key];
    const at = (event.target as HTMLElement).dataset.cell?.split(',').map(Number);
    if (step === undefined || at === undefined) return;
    const next = table.current?.querySelector<HTMLElement>(`[data-cell="${at[0]! + step[0]!},${at[1]! + step[1]!}"]`);
    if (next === null || next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  return (
    <>
      <div className="book-table-frame">
        <table className={isMatrix ? 'book-table' : 'book-table book-table-single'} ref={table} onKeyDown={onKeyDown}>
          <caption className="visually-hidden">
            {leaf.title}. Arrow keys walk over the entries, Enter opens one for editing.
          </caption>
          {isMatrix ? (
            <thead>
              <tr>
                {leaf.fields.map((f) => (
                  <th key={f.key} scope="col">
                    {f.label}
                    {f.unit === undefined ? null : <span className="kit-unit"> {f.unit}</span>}
                  </th>
                ))}
                <th>
                  <span className="visually-hidden">Take out</span>
                </th>
              </tr>
            </thead>
          ) : null}
          <tbody>
            {rows.map((row, r) => (
              <tr key={row.name}>
                {isMatrix ? null : <th scope="row">{row.name}</th>}
                {row.cells.map((cell, c) =>
                  isMatrix && c === 0 ? (
                    <th scope="row" key={cell.field.key}>
                      <Cell {...props} cell={cell} at={[r, c]} />
                    </th>
                  ) : (
                    <td key={cell.field.key}>
                      <Cell {...props} cell={cell} at={[r, c]} />
                    </td>
                  ),
                )}
                {row.remove === null ? null : (
                  <td>
                    <Button look="plain" onPress={row.remove} aria-label={`Take out ${row.name}`}>
                      Take out
                    </Button>
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {leaf.shape === 'list' && leaf.rowName !== undefined ? (
        <Button onPress={() => addRow(leaf, book, onEdit)}>Add a {leaf.rowName}</Button>
      ) : null}
    </>
  );
}

function Cell({
  cell,
  at,
  ...props
}: LeafViewProps & { readonly cell: OpenEntry; readonly at: readonly [number, number] }) {
  const words = pathWords(cell.path);
  const isFaulty = [...props.faulty].some((f) => f === words || f.startsWith(`${words}.`) || f.startsWith(`${words}[`));
  const isOpen = props.open?.path.join('.') === cell.path.join('.');
  const isChanged = props.changed(cell.path);
  // The unit stands in the head of a table with many rows, and beside the value otherwise.
  const unit = props.leaf.shape === 'list' ? {} : cell.field.unit === undefined ? {} : { unit: cell.field.unit };
  return (
    <button
      type="button"
      className="book-cell"
      data-cell={`${at[0]},${at[1]}`}
      data-faulty={isFaulty || undefined}
      data-changed={isChanged || undefined}
      aria-current={isOpen ? 'true' : undefined}
      // One stop for the Tab key per row; arrow keys reach the rest.
      tabIndex={at[1] === 0 ? 0 : -1}
      onClick={() => props.onOpen(cell)}
    >
      {valueWords(getAt(props.book, cell.path), unit)}
      {isFaulty ? <span className="book-cell-sign"> ▲ wrong</span> : null}
      {isChanged ? <span className="book-cell-sign"> changed</span> : null}
    </button>
  );
}

function rowsOf(leaf: BookLeaf, book: unknown, onEdit: LeafViewProps['onEdit']): Row[] {
  const at = getAt(book, leaf.path);
  if (leaf.shape === 'list') {
    return (Array.isArray(at) ? at : []).map((row, i) => ({
      name: rowName(row, leaf.fields),
      cells: leaf.fields.map((field) => ({ path: [...leaf.path, i, field.key], field })),
      remove: () => onEdit([...leaf.path, i], undefined),
    }));
  }
  const one = (path: JsonPath, field: BookField, name: string): Row => ({
    name,
    cells: [{ path, field }],
    remove: null,
  });
  if (leaf.shape === 'sizes') return [one(leaf.path, leaf.fields[0]!, leaf.fields[0]!.label)];
  if (leaf.shape === 'prices') {
    const materials = getAt(book, ['materials']);
    const ids = (Array.isArray(materials) ? materials : []).map((m: { id: string }) => m.id);
    const priced = Object.keys((at ?? {}) as object);
    return [...new Set([...ids, ...priced])].map((id) =>
      one([...leaf.path, id], { ...leaf.fields[0]!, mayBeEmpty: false }, id),
    );
  }
  return leaf.fields.map((field) => one([...leaf.path, field.key], field, field.label));
}

/** A new row is a copy of the last one under a free id: its values are starting values to be gone over, not blanks. */
function addRow(leaf: BookLeaf, book: unknown, onEdit: LeafViewProps['onEdit']): void {
  const list = getAt(book, leaf.path);
  if (!Array.isArray(list)) return;
  const last: unknown = list.at(-1);
  const copy = structuredClone(last ?? {}) as Record<string, unknown>;
  const [first] = leaf.fields;
  if (first?.kind === 'key') {
    const taken = new Set(list.map((row: { id: string }) => row.id.toLowerCase()));
    let n = list.length + 1;
    const stem = String(copy.id ?? 'new').replace(/\d+$/, '') || 'new';
    while (taken.has(`${stem}${n}`.toLowerCase())) n++;
    copy.id = `${stem}${n}`;
    if ('name' in copy) copy.name = `New ${leaf.rowName}`;
    if ('aliases' in copy) copy.aliases = [];
  }
  if (first?.kind === 'count') copy[first.key] = list.length + 1;
  onEdit([...leaf.path, list.length], copy);
}
