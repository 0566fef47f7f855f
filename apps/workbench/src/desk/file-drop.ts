import { useEffect, useRef, useState } from 'react';

function hasFiles(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes('Files') ?? false;
}

/** Makes the whole window take files; true while files are held over it. */
export function useFileDrop(onFiles: (files: readonly File[]) => void): boolean {
  const [isOver, setOver] = useState(false);
  const latest = useRef(onFiles);
  latest.current = onFiles;
  useEffect(() => {
    const over = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      if (event.dataTransfer !== null) event.dataTransfer.dropEffect = 'copy';
      setOver(true);
    };
    const leave = (event: DragEvent): void => {
      // Leaving one element for another is no leaving of the window.
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent): void => {
      setOver(false);
      if (!hasFiles(event)) return;
      event.preventDefault();
      latest.current([...(event.dataTransfer?.files ?? [])]);
    };
    window.addEventListener('dragenter', over);
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', over);
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return isOver;
}

/** Takes files and text pasted anywhere but into a box. */
export function usePaste(onFiles: (files: readonly File[]) => void, onText: (text: string) => void): void {
  const latest = useRef({ onFiles, onText });
  latest.current = { onFiles, onText };
  useEffect(() => {
    const paste = (event: ClipboardEvent): void => {
      if (event.target instanceof Element && event.target.closest('input, textarea, [contenteditable]')) return;
      if (document.querySelector('[role=dialog]') !== null) return;
      const files = [...(event.clipboardData?.files ?? [])];
      const text = event.clipboardData?.getData('text/plain') ?? '';
      if (files.length > 0) latest.current.onFiles(files);
      else if (text.trim() !== '') latest.current.onText(text);
      else return;
      event.preventDefault();
    };
    document.addEventListener('paste', paste);
    return () => document.removeEventListener('paste', paste);
  }, []);
}
