import type { ReactNode } from 'react';
import { NavLink } from 'react-router';
import { useDisplay } from '../units/index.js';
import { ChooseRow } from './choose-row.js';
import { jobPath, PLACES, type PlaceId } from './places.js';
import { type Theme, useTheme } from './theme.js';

const THEMES = [
  { value: 'system', label: 'System', says: 'As the system says' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
] as const satisfies readonly { value: Theme; label: string; says?: string }[];

const UNITS = [
  { value: 'mm', label: 'mm' },
  { value: 'inch', label: 'inch' },
] as const;

/** The head of the sheet: whose it is, which leaf, how it is kept, in which units. */
export function Head({
  place,
  lastJob,
  keeping,
  onFind,
  onHelp,
  findCaps,
}: {
  readonly place: PlaceId | null;
  readonly lastJob: string | null;
  readonly keeping: ReactNode;
  readonly onFind: () => void;
  readonly onHelp: () => void;
  readonly findCaps: readonly string[];
}) {
  const { unit, setUnit } = useDisplay();
  const [theme, setTheme] = useTheme();
  return (
    <header className="shell-head no-print">
      <p className="shell-name">
        <NavLink to="/" aria-label="Gapwright, to the desk">
          Gapwright
        </NavLink>
      </p>
      <nav className="shell-places" aria-label="Places">
        <ul>
          {PLACES.map((p) => (
            <li key={p.id}>
              <NavLink
                to={p.id === 'sheet' && lastJob !== null ? jobPath(lastJob) : p.path}
                aria-current={p.id === place ? 'page' : false}
                title={p.answers}
              >
                {p.label}
              </NavLink>
            </li>
          ))}
        </ul>
      </nav>
      <div className="shell-box shell-keeping">
        <span className="shell-caption">Keeping</span>
        {keeping}
      </div>
      <div className="shell-box">
        <ChooseRow label="Lengths" value={unit} options={UNITS} onChoose={setUnit} />
      </div>
      <div className="shell-box">
        <ChooseRow label="Page" value={theme} options={THEMES} onChoose={setTheme} />
      </div>
      <div className="shell-box shell-aids">
        <button type="button" className="shell-aid" onClick={onFind}>
          Find{' '}
          <span className="shell-caps" aria-hidden="true">
            {findCaps.map((cap) => (
              <kbd key={cap}>{cap}</kbd>
            ))}
          </span>
        </button>
        <button type="button" className="shell-aid" onClick={onHelp}>
          Help{' '}
          <span className="shell-caps" aria-hidden="true">
            <kbd>?</kbd>
          </span>
        </button>
      </div>
    </header>
  );
}
