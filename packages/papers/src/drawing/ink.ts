/** One ink in three strengths, one accent; the same values as in `templates/sheet.typ`. */
export const INK = '#1d2a35';
export const INK_SOFT = '#5a6872';
export const INK_PALE = '#b9c1c7';
/** Ground of the part's material. */
export const TINT = '#f1f0ea';
export const HALO = '#ffffff';
/** "Needs you". */
export const ACCENT = '#a8480f';

/** Family name of the shipped typeface. */
export const FAMILY = 'Gapwright Sans, sans-serif';
