/** Hands a file to the browser's download folder. */
export function download(content: Blob, fileName: string): void {
  const url = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The browser needs the address until it has taken the file.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

export function downloadJson(json: unknown, fileName: string): void {
  download(new Blob([`${JSON.stringify(json, null, 2)}\n`], { type: 'application/json' }), fileName);
}
