/** What a command wants printed, and how it went: 0 done, 1 done but a requirement or the proof fails, 2 bad input. */
export interface Outcome {
  readonly exitCode: 0 | 1 | 2;
  /** For stdout. */
  readonly text: string;
  /** One sentence for stderr; needed with exit code 2. */
  readonly complaint?: string;
}

export function jsonText(document: unknown): string {
  return JSON.stringify(document, null, 2);
}
