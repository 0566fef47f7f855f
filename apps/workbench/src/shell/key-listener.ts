import { useEffect } from 'react';
import { commandsNow } from './commands.js';
import { isPlain, KeyWatch } from './keys.js';

const SWITCH = 'gapwright.plainKeys';

/** Whether single letters and signs act as keys; people who dictate or brush keys can turn them off. */
export function plainKeysOn(): boolean {
  try {
    return localStorage.getItem(SWITCH) !== 'off';
  } catch {
    return true;
  }
}

export function setPlainKeys(on: boolean): void {
  try {
    if (on) localStorage.removeItem(SWITCH);
    else localStorage.setItem(SWITCH, 'off');
  } catch {
    // Private windows may forbid it; keys then stay on.
  }
}

/** Where letters already mean something: text, and lists that jump to what is typed. */
function takesLetters(target: EventTarget | null): boolean {
  return (
    target instanceof Element &&
    target.closest(
      'input:not([type=checkbox], [type=radio], [type=button]), textarea, select, [contenteditable=""], [contenteditable=true], [role=listbox], [role=menu], [role=combobox], [role=grid], [role=tree]',
    ) !== null
  );
}

/** Runs commands by their keys, for as long as the page is open. */
export function useKeys(): void {
  useEffect(() => {
    const watch = new KeyWatch();
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing || event.repeat) return;
      // A dialog or menu over the page has the keys to itself.
      const isCovered = document.querySelector('[role=dialog], [role=alertdialog], [role=menu]') !== null;
      const inText = takesLetters(event.target);
      const plain = plainKeysOn();
      const inForce = commandsNow().filter((c) => {
        if (c.keys === undefined || (isCovered && c.alsoInText !== true)) return false;
        if (isPlain(c.keys)) return plain && !inText && !isCovered;
        return !inText || c.alsoInText === true;
      });
      const keys = watch.take(event, new Set(inForce.map((c) => c.keys!)), performance.now());
      if (keys === null) return;
      // The newest registration wins: a place may take over keys of the frame.
      const command = inForce.filter((c) => c.keys === keys).at(-1)!;
      event.preventDefault();
      if (command.isPossible ?? true) command.run();
    };
    document.addEventListener('keydown', onKeyDown);
    return () => document.removeEventListener('keydown', onKeyDown);
  }, []);
}
