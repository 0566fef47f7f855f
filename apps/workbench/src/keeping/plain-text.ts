/** Text that survives being written as UTF-8: no NUL and no half of a surrogate pair. */
export function plainText(text: string, longest: number): string {
  const cut = text.length > longest ? `${text.slice(0, longest - 1).replace(/\p{Surrogate}$/u, '')}…` : text;
  return cut.replace(/\0|\p{Surrogate}/gu, '\uFFFD');
}
