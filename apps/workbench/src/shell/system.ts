/** Whether the command key is called ⌘ here. */
export const isMac = /Mac|iP(hone|ad)/.test(navigator.platform);
