import type { ReactNode } from 'react';

/** One worked example: what is asked, the formula, the same with numbers, the result and where it comes from. */
export function Worked({
  title,
  formula,
  numbers,
  result,
  source,
  children,
}: {
  readonly title: string;
  readonly formula: string;
  readonly numbers: string;
  readonly result: string;
  readonly source: string;
  readonly children?: ReactNode;
}) {
  return (
    <section className="shell-worked">
      <h4>{title}</h4>
      <dl>
        <div>
          <dt>Rule</dt>
          <dd>{formula}</dd>
        </div>
        <div>
          <dt>Numbers</dt>
          <dd>{numbers}</dd>
        </div>
        <div>
          <dt>Result</dt>
          <dd>
            <strong>{result}</strong>
          </dd>
        </div>
        <div>
          <dt>Source</dt>
          <dd>{source}</dd>
        </div>
      </dl>
      {children}
    </section>
  );
}
