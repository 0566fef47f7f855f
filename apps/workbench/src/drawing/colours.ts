import type { DrawingColours } from './types.js';

const TOKENS: Readonly<Record<keyof DrawingColours, string>> = {
  ink: '--ink',
  faint: '--ink-soft',
  rule: '--rule',
  ruleStrong: '--rule-strong',
  paper: '--paper-raised',
  needs: '--needs',
  proven: '--proven',
};

/**
 * The page's colours as the canvas takes them. Asked through a real element, because the value of a custom property may be
 * `light-dark(…)` and only a used colour is resolved; it also gives the system's colours in forced-colours mode.
 */
export function readColours(within: HTMLElement): DrawingColours {
  const probe = document.createElement('span');
  probe.hidden = true;
  within.append(probe);
  const resolve = (key: keyof DrawingColours): string => {
    if (key === 'paper') {
      probe.style.backgroundColor = `var(${TOKENS.paper})`;
      return getComputedStyle(probe).backgroundColor;
    }
    probe.style.color = `var(${TOKENS[key]})`;
    return getComputedStyle(probe).color;
  };
  const colours = Object.fromEntries(
    (Object.keys(TOKENS) as (keyof DrawingColours)[]).map((key) => [key, resolve(key)]),
  ) as Record<keyof DrawingColours, string>;
  probe.remove();
  return colours;
}

/** Calls back when the page changes between light and dark, contrast or forced colours. Returns what stops it. */
export function onColoursChange(changed: () => void): () => void {
  const queries = ['(prefers-color-scheme: dark)', '(prefers-contrast: more)', '(forced-colors: active)', 'print'].map(
    (q) => matchMedia(q),
  );
  for (const query of queries) query.addEventListener('change', changed);
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'class', 'style'] });
  return () => {
    for (const query of queries) query.removeEventListener('change', changed);
    observer.disconnect();
  };
}
