import { createContext, useContext } from 'react';

/** Present burning and attended minutes of the whole job, against which changes are said in per cent. */
export interface Totals {
  readonly burnMin: number | null;
  readonly attendedMin: number | null;
}

const Context = createContext<Totals>({ burnMin: null, attendedMin: null });

export const TotalsProvider = Context;
export const useTotals = (): Totals => useContext(Context);
