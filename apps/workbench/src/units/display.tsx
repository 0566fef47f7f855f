import { createContext, type ReactNode, useContext, useMemo, useState } from 'react';
import { type LengthUnit, lengthText } from './length.js';

interface Display {
  readonly unit: LengthUnit;
  readonly setUnit: (unit: LengthUnit) => void;
  readonly length: (mm: number, digits?: number) => string;
}

const Context = createContext<Display | null>(null);
const KEY = 'gapwright.unit';

function remembered(): LengthUnit {
  try {
    return localStorage.getItem(KEY) === 'inch' ? 'inch' : 'mm';
  } catch {
    return 'mm';
  }
}

/** The unit lengths are shown in, for the whole page. */
export function DisplayProvider({ children }: { readonly children: ReactNode }) {
  const [unit, set] = useState(remembered);
  const value = useMemo(
    (): Display => ({
      unit,
      setUnit: (next) => {
        set(next);
        try {
          localStorage.setItem(KEY, next);
        } catch {
          // Private windows may forbid it; the choice then lasts as long as the page.
        }
      },
      length: (mm, digits) => lengthText(mm, unit, digits),
    }),
    [unit],
  );
  return <Context value={value}>{children}</Context>;
}

export function useDisplay(): Display {
  const display = useContext(Context);
  if (display === null) throw new Error('useDisplay outside DisplayProvider');
  return display;
}
