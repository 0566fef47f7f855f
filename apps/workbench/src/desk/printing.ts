import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';

/** True while the page is being printed: a list that draws only what is in view then draws all of it. */
export function usePrinting(): boolean {
  const [isPrinting, setPrinting] = useState(false);
  useEffect(() => {
    const media = window.matchMedia('print');
    // The browser lays the print out as soon as this returns.
    const change = (): void => flushSync(() => setPrinting(media.matches));
    media.addEventListener('change', change);
    return () => media.removeEventListener('change', change);
  }, []);
  return isPrinting;
}
