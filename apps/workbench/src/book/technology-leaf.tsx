import { hasStop } from '@gapwright/base';
import { useMemo, useState } from 'react';
import { FileTrigger } from 'react-aria-components';
import { useEngine } from '../engine/index.js';
import { useKeeping } from '../keeping/index.js';
import { Button, Choice, downloadJson, TextEntry } from '../kit/index.js';
import { getAt } from './json-path.js';
import { quantityWords } from './technology-words.js';

interface Point {
  readonly id: string;
  readonly process: string;
  readonly material: string;
  readonly tool: string;
  readonly conditions: Readonly<Record<string, number>>;
  readonly results: Readonly<Record<string, number>>;
  readonly source: string;
  readonly note?: string;
}

const ALL = 'all';
/** Rows shown before "show more": a table of thousands helps nobody to look. */
const PAGE = 60;

/** Technology points: measured or published cutting conditions with their results and sources. */
export function TechnologyLeaf() {
  const keeping = useKeeping();
  const engine = useEngine();
  const held = keeping.book('technology-book');
  const points = (getAt(held.json, ['points']) ?? []) as readonly Point[];
  const sources = new Map(
    ((getAt(held.json, ['sources']) ?? []) as { id: string; title: string; standing: string }[]).map((s) => [s.id, s]),
  );
  const [material, setMaterial] = useState(ALL);
  const [words, setWords] = useState('');
  const [shown, setShown] = useState(PAGE);
  const [fault, setFault] = useState<string | null>(null);
  const materials = useMemo(() => [...new Set(points.map((p) => p.material))].sort(), [points]);
  const found = useMemo(() => {
    const wanted = words.toLowerCase();
    return points.filter(
      (p) =>
        (material === ALL || p.material === material) &&
        (wanted === '' ||
          `${p.id} ${p.process} ${p.tool} ${p.note ?? ''} ${sources.get(p.source)?.title ?? ''}`
            .toLowerCase()
            .includes(wanted)),
    );
  }, [points, material, words, sources]);

  const importFile = async (files: FileList | null): Promise<void> => {
    const file = files?.[0];
    if (file === undefined) return;
    let json: unknown;
    try {
      json = JSON.parse(await file.text());
    } catch {
      setFault(
        `${file.name} is not a technology book. Tables of burns become one with: gapwright book import TABLE.csv --map MAP.json --out BOOK.json`,
      );
      return;
    }
    const problems = await engine.checkBook('technology-book', json);
    if (hasStop(problems)) {
      setFault(problems.map((p) => p.message).join(' '));
      return;
    }
    await keeping.saveBook('technology-book', json, `Taken from ${file.name}`);
    setFault(null);
  };
  return (
    <>
      <h2>Technology points</h2>
      <p>
        Cutting conditions somebody measured or published, each with its result and source. {points.length} points of{' '}
        {materials.length} materials. Plans do not take their numbers from here yet; they rest on the energy levels.
      </p>
      <div className="book-actions no-print">
        <Choice
          label="Material"
          value={material}
          options={[{ value: ALL, label: 'All materials' }, ...materials.map((m) => ({ value: m, label: m }))]}
          onChoose={setMaterial}
        />
        <TextEntry label="With the words" value={words} onCommit={setWords} />
        <FileTrigger acceptedFileTypes={['.json', 'application/json']} onSelect={(files) => void importFile(files)}>
          <Button>Import a technology book</Button>
        </FileTrigger>
        <Button onPress={() => downloadJson(held.json, 'technology-book.json')}>Export</Button>
      </div>
      {fault === null ? null : (
        <p className="kit-fault" role="alert">
          {fault}
        </p>
      )}
      <p aria-live="polite">{found.length === points.length ? '' : `${found.length} of ${points.length} points`}</p>
      <div className="book-table-frame">
        <table className="book-versions">
          <thead>
            <tr>
              <th scope="col">Point</th>
              <th scope="col">Material, tool</th>
              <th scope="col">Conditions</th>
              <th scope="col">Results</th>
              <th scope="col">Source</th>
            </tr>
          </thead>
          <tbody>
            {found.slice(0, shown).map((p) => (
              <tr key={p.id}>
                <th scope="row">{p.id}</th>
                <td>
                  {p.material}, {p.process} with {p.tool}
                </td>
                <td>{quantityWords(p.conditions)}</td>
                <td>{quantityWords(p.results)}</td>
                <td>
                  {sources.get(p.source)?.title ?? p.source} ({sources.get(p.source)?.standing ?? 'not listed'})
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {found.length > shown ? <Button onPress={() => setShown(shown + 4 * PAGE)}>Show more</Button> : null}
    </>
  );
}
