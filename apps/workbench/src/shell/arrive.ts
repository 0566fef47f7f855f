import { useEffect, useRef } from 'react';

/**
 * After a change of address: names the page, starts at its top and moves focus to its `h1`, so that keyboard and reader start where
 * the eye does. A place may load late; its heading is waited for.
 */
export function useArrival(pathname: string): void {
  const isFirst = useRef(true);
  useEffect(() => {
    if (isFirst.current) {
      isFirst.current = false;
      return;
    }
    const main = document.querySelector('main');
    if (main === null) return;
    window.scrollTo(0, 0);
    const arrive = (): boolean => {
      const heading = main.querySelector(`[data-address="${CSS.escape(pathname)}"] h1`);
      if (!(heading instanceof HTMLElement)) return false;
      heading.tabIndex = -1;
      heading.focus({ preventScroll: true });
      return true;
    };
    if (arrive()) return;
    const watch = new MutationObserver(() => {
      if (arrive()) watch.disconnect();
    });
    watch.observe(main, { childList: true, subtree: true });
    return () => watch.disconnect();
  }, [pathname]);
}

/** Names the page in the browser's tab and history. */
export function usePageTitle(title: string): void {
  useEffect(() => {
    document.title = `${title} · Gapwright`;
  }, [title]);
}
