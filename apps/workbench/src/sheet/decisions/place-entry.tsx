import { LengthEntry } from '../../kit/index.js';
import { useSheet } from '../sheet-context.js';

interface PlaceEntryProps {
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly xMm: number;
  readonly yMm: number;
  readonly isDisabled: boolean;
  readonly onCommit: (xMm: number, yMm: number) => void;
}

/** A place on the drawing by its two coordinates. */
export function PlaceEntry({ label, hideLabel = false, xMm, yMm, isDisabled, onCommit }: PlaceEntryProps) {
  const { show } = useSheet();
  return (
    <fieldset className="sheet-place">
      <legend className={hideLabel ? 'visually-hidden' : 'kit-label'}>{label}</legend>
      <LengthEntry
        label="x"
        value={xMm}
        letters={8}
        isDisabled={isDisabled}
        onCommit={(x) => x !== null && onCommit(x, yMm)}
      />
      <LengthEntry
        label="y"
        value={yMm}
        letters={8}
        isDisabled={isDisabled}
        onCommit={(y) => y !== null && onCommit(xMm, y)}
      />
      <button type="button" className="kit-link no-print" onClick={() => show({ xMm, yMm })}>
        Show the place
      </button>
    </fieldset>
  );
}
