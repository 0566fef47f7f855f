import type { Problem } from '@gapwright/base';
import { useMemo } from 'react';
import { Button, download } from '../../kit/index.js';

interface ProgramTextProps {
  readonly fileName: string;
  readonly text: string;
  readonly findings: readonly Problem[];
}

/** Longest text laid out on the sheet; a longer program is read from its file. */
const MOST_LINES = 2000;

/** The program as it goes to the machine, line by line, with what the proof found at a line. */
export function ProgramText({ fileName, text, findings }: ProgramTextProps) {
  const lines = useMemo(() => text.replace(/\n$/, '').split('\n'), [text]);
  const found = useMemo(
    () => new Map(findings.flatMap((f) => (f.at?.line === undefined ? [] : [[f.at.line, f.code] as const]))),
    [findings],
  );
  return (
    <details className="sheet-program">
      <summary>
        {fileName}, {lines.length} lines
      </summary>
      <p className="no-print">
        <Button onPress={() => download(new Blob([text], { type: 'text/plain' }), fileName)}>
          Download {fileName}
        </Button>
      </p>
      {lines.length > MOST_LINES ? (
        <p className="sheet-soft">The first {MOST_LINES} lines; the file has all of them.</p>
      ) : null}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keyboard to be scrolled */}
      <section tabIndex={0} aria-label={`Text of ${fileName}`} className="sheet-program-text">
        <pre>
          {lines.slice(0, MOST_LINES).map((line, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines of a text have no other name
            <span key={i} className={found.has(i + 1) ? 'sheet-program-found' : undefined}>
              <span className="sheet-program-number">{String(i + 1).padStart(4)}</span> {line}
              {found.has(i + 1) ? `   ◀ ${found.get(i + 1)}` : ''}
              {'\n'}
            </span>
          ))}
        </pre>
      </section>
    </details>
  );
}
