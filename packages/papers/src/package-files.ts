import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Templates and typefaces lie beside `src` and `dist`, so the same relative path serves both. */
export const TEMPLATES_DIR = fileURLToPath(new URL('../templates/', import.meta.url));

const FONTS = ['GapwrightSans-Regular.otf', 'GapwrightSans-Italic.otf', 'GapwrightSans-SemiBold.otf'] as const;

/** The shipped typeface, all weights. */
export function readFonts(): Buffer[] {
  return FONTS.map((name) => readFileSync(new URL(`../fonts/${name}`, import.meta.url)));
}
