/** Which paper: light, dark, or what the system says. */
export type Theme = 'system' | 'light' | 'dark';

const KEY = 'gapwright.theme';

export function rememberedTheme(): Theme {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

/** Sets the paper now and remembers it on this device. */
export function setTheme(theme: Theme): void {
  showTheme(theme);
  try {
    if (theme === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, theme);
  } catch {
    // Private windows may forbid it; the choice then lasts as long as the page.
  }
}

export function showTheme(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}
