import './book.css';
import { hasStop, type Problem } from '@gapwright/base';
import { type ReactNode, useEffect, useMemo, useState } from 'react';
import { FileTrigger } from 'react-aria-components';
import { useEngine } from '../engine/index.js';
import { type HeldBook, useKeeping } from '../keeping/index.js';
import { Button, downloadJson, Mark, ProblemLine } from '../kit/index.js';
import { useBookDraft } from './draft.js';
import { EntryEditor } from './entry-editor.js';
import { LEAVES } from './fields.js';
import { getAt, type JsonPath, parsePath, pathWords } from './json-path.js';
import { KeepDialog } from './keep-dialog.js';
import { LeafView, type OpenEntry } from './leaf-view.js';
import { PostLeaf } from './post-leaf.js';
import { TechnologyLeaf } from './technology-leaf.js';
import { VersionsLeaf } from './versions-leaf.js';

const OTHER_LEAVES = [
  { id: 'technology', title: 'Technology points' },
  { id: 'post', title: 'Post definition' },
  { id: 'versions', title: 'Versions' },
] as const;

/** The shop book: what the shop has and believes, every value with its source. */
export function ShopBookPlace() {
  const held = useKeeping().book('shop-book');
  return <ShopBook held={held} key={held.kind} />;
}

function ShopBook({ held }: { readonly held: HeldBook }) {
  const keeping = useKeeping();
  const draft = useBookDraft(held.json, held.sha256);
  const problems = useChecked(draft.json);
  const [leafId, setLeafId] = useState<string>(LEAVES[0]!.id);
  const [open, setOpen] = useState<OpenEntry | null>(null);
  const [isKeeping, setIsKeeping] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const faulty = useMemo(() => new Set((problems ?? []).flatMap((p) => p.at?.field ?? [])), [problems]);
  const leaf = LEAVES.find((l) => l.id === leafId);
  const stops = hasStop(problems ?? []);

  const showProblem = (problem: Problem): void => {
    const path = parsePath(problem.at?.field ?? '');
    const found = fieldAt(path);
    if (found === null) return;
    setLeafId(found.leaf.id);
    setOpen(found.entry);
  };
  const changed = (path: JsonPath): boolean =>
    draft.json !== held.json && JSON.stringify(getAt(draft.json, path)) !== JSON.stringify(getAt(held.json, path));

  const importFile = async (files: FileList | null): Promise<void> => {
    const file = files?.[0];
    if (file === undefined) return;
    try {
      draft.replace(JSON.parse(await file.text()));
      setFault(null);
    } catch {
      setFault(
        `${file.name} is not a shop book: it is not JSON. Choose a file written by “Export”, or by gapwright learn.`,
      );
    }
  };

  return (
    <div className="book">
      <header className="book-head">
        <div>
          <h1>Shop book</h1>
          <p>
            {String(getAt(draft.json, ['name']) ?? '')}, version {String(getAt(draft.json, ['version']) ?? '')}.{' '}
            {String(getAt(draft.json, ['notice']) ?? '')}
          </p>
          <p>
            <DraftState
              changes={draft.changes.length}
              saved={held.saved}
              isChecking={problems === null}
              stops={stops}
            />
          </p>
        </div>
        <div className="book-actions no-print">
          <Button onPress={draft.undo} isDisabled={!draft.canUndo}>
            Undo
          </Button>
          <Button onPress={draft.redo} isDisabled={!draft.canRedo}>
            Redo
          </Button>
          <FileTrigger acceptedFileTypes={['.json', 'application/json']} onSelect={(files) => void importFile(files)}>
            <Button>Import</Button>
          </FileTrigger>
          <Button onPress={() => downloadJson(draft.json, `shop-book-${getAt(draft.json, ['version'])}.json`)}>
            Export
          </Button>
          {draft.changes.length === 0 ? null : <Button onPress={draft.putAway}>Put the changes away</Button>}
          <Button
            look="main"
            isDisabled={draft.changes.length === 0 || problems === null || stops}
            onPress={() => setIsKeeping(true)}
          >
            Keep as a new version
          </Button>
        </div>
        {fault === null ? null : (
          <p className="kit-fault" role="alert">
            {fault}
          </p>
        )}
      </header>

      <nav className="book-index no-print" aria-label="Leaves of the shop book">
        {[...LEAVES, ...OTHER_LEAVES].map((l) => (
          <button
            type="button"
            key={l.id}
            aria-current={l.id === leafId ? 'page' : undefined}
            onClick={() => {
              setLeafId(l.id);
              setOpen(null);
            }}
          >
            {l.title}
          </button>
        ))}
      </nav>

      <div className="book-leaf">
        {problems !== null && problems.length > 0 ? (
          <ul aria-label="Problems of the book">
            {problems.map((p) => (
              <ProblemLine key={`${p.code}${p.message}`} problem={p} onShow={showProblem} />
            ))}
          </ul>
        ) : null}
        {leaf === undefined ? (
          <OtherLeaf id={leafId} current={held} onUse={draft.replace} />
        ) : (
          <>
            <h2>{leaf.title}</h2>
            <p>{leaf.says}</p>
            <LeafView
              leaf={leaf}
              book={draft.json}
              open={open}
              onOpen={setOpen}
              onEdit={draft.edit}
              faulty={faulty}
              changed={changed}
            />
          </>
        )}
      </div>

      {leaf === undefined ? null : (
        <aside className="book-margin no-print" aria-label="Entry">
          {open === null ? (
            <p className="kit-hint">Choose an entry to see where it comes from and to change it.</p>
          ) : (
            <EntryEditor
              key={pathWords(open.path)}
              book={draft.json}
              path={open.path}
              field={open.field}
              onEdit={draft.edit}
            />
          )}
        </aside>
      )}

      <KeepDialog
        isOpen={isKeeping}
        onClose={() => setIsKeeping(false)}
        version={String(getAt(held.json, ['version']) ?? '')}
        draftVersion={String(getAt(draft.json, ['version']) ?? '')}
        changes={draft.changes}
        onKeep={async (version, says) => {
          await keeping.saveBook('shop-book', { ...(draft.json as object), version }, says);
          setIsKeeping(false);
        }}
      />
    </div>
  );
}

function OtherLeaf({
  id,
  current,
  onUse,
}: {
  readonly id: string;
  readonly current: HeldBook;
  readonly onUse: (json: unknown) => void;
}): ReactNode {
  if (id === 'technology') return <TechnologyLeaf />;
  if (id === 'post') return <PostLeaf />;
  return <VersionsLeaf kind="shop-book" current={current} onUse={onUse} />;
}

interface DraftStateProps {
  readonly changes: number;
  readonly saved: HeldBook['saved'];
  readonly isChecking: boolean;
  readonly stops: boolean;
}

function DraftState({ changes, saved, isChecking, stops }: DraftStateProps) {
  if (stops) return <Mark kind="needs">This draft cannot be kept yet: see the problems below</Mark>;
  if (changes > 0) {
    const words = changes === 1 ? '1 change' : `${changes} changes`;
    return <Mark kind="needs">{`${words}, not in use yet${isChecking ? '; being checked' : ''}`}</Mark>;
  }
  return saved === 'saved' ? <Mark kind="proven">In use, saved</Mark> : <Mark kind="open">{`In use, ${saved}`}</Mark>;
}

/** Problems of the draft, checked a moment after the last change; null while the check runs. */
function useChecked(json: unknown): readonly Problem[] | null {
  const engine = useEngine();
  const [result, setResult] = useState<{ readonly json: unknown; readonly problems: readonly Problem[] } | null>(null);
  useEffect(() => {
    let isWanted = true;
    const timer = setTimeout(() => {
      void engine.checkBook('shop-book', json).then((problems) => {
        if (isWanted) setResult({ json, problems });
      });
    }, 150);
    return () => {
      isWanted = false;
      clearTimeout(timer);
    };
  }, [engine, json]);
  return result !== null && result.json === json ? result.problems : null;
}

function fieldAt(path: JsonPath): { readonly leaf: (typeof LEAVES)[number]; readonly entry: OpenEntry } | null {
  const leaves = LEAVES.filter((l) => l.path.every((step, i) => path[i] === step)).sort(
    (a, b) => b.path.length - a.path.length,
  );
  for (const leaf of leaves) {
    const rest = path.slice(leaf.path.length);
    const depth = leaf.shape === 'list' ? 2 : leaf.shape === 'sizes' ? 0 : 1;
    const key = rest[depth - 1];
    const field =
      leaf.shape === 'list' || leaf.shape === 'single' ? leaf.fields.find((f) => f.key === key) : leaf.fields[0];
    if (field !== undefined) return { leaf, entry: { path: path.slice(0, leaf.path.length + depth), field } };
  }
  return null;
}
