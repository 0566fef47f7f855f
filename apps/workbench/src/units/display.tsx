import { createContext, type ReactNode, useContext, useMemo } from 'react';
import { useSettings } from '../keeping/index.js';
import { type LengthUnit, lengthText } from './length.js';

interface Display {
  readonly unit: LengthUnit;
  readonly setUnit: (unit: LengthUnit) => void;
  readonly length: (mm: number, digits?: number) => string;
}

const Context = createContext<Display | null>(null);

/** The unit lengths are shown in, for the whole page, as this browser is set. */
export function DisplayProvider({ children }: { readonly children: ReactNode }) {
  const [{ units: unit }, setSettings] = useSettings();
  const value = useMemo(
    (): Display => ({
      unit,
      setUnit: (units) => setSettings({ units }),
      length: (mm, digits) => lengthText(mm, unit, digits),
    }),
    [unit, setSettings],
  );
  return <Context value={value}>{children}</Context>;
}

export function useDisplay(): Display {
  const display = useContext(Context);
  if (display === null) throw new Error('useDisplay outside DisplayProvider');
  return display;
}
