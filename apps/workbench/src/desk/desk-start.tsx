import { Button } from '../kit/button.js';
import { DEMO_JOBS, type DemoJob } from './demo-jobs.js';

/** The invented jobs, one click each. */
export function DemoList({ isBusy, onDemo }: { readonly isBusy: boolean; readonly onDemo: (demo: DemoJob) => void }) {
  return (
    <ul className="desk-demos">
      {DEMO_JOBS.map((demo) => (
        <li key={demo.id}>
          <button type="button" className="desk-demo" disabled={isBusy} onClick={() => onDemo(demo)}>
            <span className="desk-demo-title">{demo.title}</span>
            <span className="desk-soft">{demo.says}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** The desk before the first job: what to put here and what happens then. */
export function DeskStart({
  isBusy,
  onChoose,
  onPaste,
  onDemo,
}: {
  readonly isBusy: boolean;
  readonly onChoose: () => void;
  readonly onPaste: () => void;
  readonly onDemo: (demo: DemoJob) => void;
}) {
  return (
    <div className="desk-start">
      <section className="desk-start-drop" aria-labelledby="desk-start-drop">
        <h2 id="desk-start-drop">Drop a drawing here</h2>
        <p>
          Anywhere on this page will do. DXF is read; STEP and STL are kept with the enquiry until reading solids is
          built. Several files start several enquiries.
        </p>
        <p className="shell-actions">
          <Button look="main" onPress={onChoose} isDisabled={isBusy}>
            Choose files
          </Button>
          <Button onPress={onPaste} isDisabled={isBusy}>
            Paste an enquiry
          </Button>
        </p>
        <h3>What happens then</h3>
        <ol className="desk-steps">
          <li>The drawing is read: contours, openings, what was closed or left out.</li>
          <li>You answer what the drawing does not say: material, height, finish, tolerance, quantity.</li>
          <li>
            The plan, the program text and its proof against the drawing follow, with the working of every number.
          </li>
          <li>The price comes with its range and the chance of losing money at it; then the papers.</li>
        </ol>
      </section>
      <section className="desk-start-demos" aria-labelledby="desk-start-demos">
        <h2 id="desk-start-demos">Or take a demo job</h2>
        <p className="desk-soft">Invented parts, customers and quantities, marked as such on every paper.</p>
        <DemoList isBusy={isBusy} onDemo={onDemo} />
      </section>
    </div>
  );
}
