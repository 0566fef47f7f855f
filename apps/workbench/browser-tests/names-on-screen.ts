import type { Page } from 'playwright-core';

/** Every kind of element whose text or label is a name: controls, headings, captions, heads of tables. */
const NAMED =
  'h1, h2, h3, h4, button, a, label, legend, th, summary, figcaption, caption, [role=tab], [role=option], [role=menuitem]';

/**
 * The names that can be seen now, or heard from a screen reader: text of controls and headings without what is hidden
 * from both, key caps and the values of lists, and their `aria-label`.
 */
export async function namesOnScreen(page: Page): Promise<readonly string[]> {
  return page.evaluate((named) => {
    const names = new Set<string>();
    const add = (text: string | null): void => {
      const name = (text ?? '').replace(/\s+/g, ' ').trim();
      if (name !== '') names.add(name);
    };
    const textOf = (node: Node): string => {
      if (node.nodeType === Node.TEXT_NODE) return node.textContent ?? '';
      if (!(node instanceof Element) || node.matches('[aria-hidden=true], kbd, select, svg, input, textarea'))
        return '';
      return ` ${[...node.childNodes].map(textOf).join('')} `;
    };
    for (const element of document.querySelectorAll(named)) {
      if (element.closest('[aria-hidden=true], [hidden]') !== null) continue;
      if (!element.checkVisibility({ visibilityProperty: true })) continue;
      add(textOf(element));
      add(element.getAttribute('aria-label'));
    }
    return [...names];
  }, NAMED);
}
