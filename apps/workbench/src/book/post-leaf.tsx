import { hasStop, type Problem } from '@gapwright/base';
import { useEffect, useState } from 'react';
import { useEngine } from '../engine/index.js';
import { useKeeping } from '../keeping/index.js';
import { Button, downloadJson, Mark, ProblemLine } from '../kit/index.js';

/** The post definition: how a program is written for a machine. A data file, edited as text and checked as a whole. */
export function PostLeaf() {
  const keeping = useKeeping();
  const engine = useEngine();
  const held = keeping.book('post');
  const inUse = `${JSON.stringify(held.json, null, 2)}\n`;
  const [text, setText] = useState(inUse);
  const [base, setBase] = useState(held.sha256);
  const [result, setResult] = useState<{ readonly text: string; readonly problems: readonly Problem[] } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  if (base !== held.sha256) {
    setBase(held.sha256);
    setText(inUse);
  }
  useEffect(() => {
    let isWanted = true;
    const timer = setTimeout(() => {
      let json: unknown;
      try {
        json = JSON.parse(text);
      } catch (error) {
        const says = error instanceof Error ? error.message : String(error);
        setResult({
          text,
          problems: [
            {
              code: 'POST-NOT-JSON',
              severity: 'stop',
              message: `This is not JSON: ${says}. Mend it at that place, or undo.`,
              at: null,
            },
          ],
        });
        return;
      }
      void engine.checkBook('post', json).then((problems) => isWanted && setResult({ text, problems }));
    }, 250);
    return () => {
      isWanted = false;
      clearTimeout(timer);
    };
  }, [engine, text]);
  const problems = result?.text === text ? result.problems : null;
  const isChanged = text !== inUse;
  const canKeep = isChanged && problems !== null && !hasStop(problems);
  return (
    <>
      <h2>Post definition</h2>
      <p>
        How programs are written: words, numbers, what stands at start and end. It is data; a program written with it is
        read back and proved before it is handed over. Compare the words with your machine’s own manual, which comes
        first.
      </p>
      <p>
        {problems === null ? (
          <Mark kind="open">Being checked</Mark>
        ) : hasStop(problems) ? (
          <Mark kind="needs">Cannot be used</Mark>
        ) : isChanged ? (
          <Mark kind="needs">Changed, not in use yet</Mark>
        ) : (
          <Mark kind="proven">In use</Mark>
        )}
      </p>
      <ul>
        {problems?.map((p) => (
          <ProblemLine key={`${p.code}${p.message}`} problem={p} />
        ))}
      </ul>
      <label className="kit-label" htmlFor="post-text">
        Definition as JSON
      </label>
      <textarea
        id="post-text"
        className="kit-input book-text"
        spellCheck={false}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <p className="book-actions no-print">
        <Button
          look="main"
          isDisabled={!canKeep}
          onPress={() => {
            keeping.saveBook('post', JSON.parse(text), 'Post definition edited').then(
              () => setFault(null),
              (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
            );
          }}
        >
          Keep as a new version
        </Button>
        <Button isDisabled={!isChanged} onPress={() => setText(inUse)}>
          Put the changes away
        </Button>
        <Button onPress={() => downloadJson(held.json, 'post-definition.json')}>Export</Button>
      </p>
      {fault === null ? null : (
        <p className="kit-fault" role="alert">
          {fault}
        </p>
      )}
    </>
  );
}
