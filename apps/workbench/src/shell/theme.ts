import { useLayoutEffect } from 'react';
import { type Settings, useSettings } from '../keeping/index.js';

export type Theme = Settings['theme'];

/** Lays the page on light or dark paper as this browser is set; `system` leaves it to the system. */
export function useTheme(): readonly [Theme, (theme: Theme) => void] {
  const [{ theme }, setSettings] = useSettings();
  useLayoutEffect(() => {
    if (theme === 'system') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
  }, [theme]);
  return [theme, (next) => setSettings({ theme: next })];
}
