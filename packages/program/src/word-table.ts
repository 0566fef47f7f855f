/** Meanings of words by letter and number, without building a string for each look-up: reading is one look-up a word. */
export class WordTable<T> {
  private readonly exact = new Map<string, Map<number, T>>();
  private readonly anyNumber = new Map<string, T>();

  /** `value` null stands for every number behind the letter. Leading zeros never matter: `G1` and `G01` are one word. */
  set(letter: string, value: number | null, meaning: T): void {
    if (value === null) {
      this.anyNumber.set(letter, meaning);
      return;
    }
    const numbers = this.exact.get(letter) ?? new Map<number, T>();
    numbers.set(value, meaning);
    this.exact.set(letter, numbers);
  }

  get(letter: string, value: number | null): T | undefined {
    const exact = value === null ? undefined : this.exact.get(letter)?.get(value);
    return exact ?? this.anyNumber.get(letter);
  }
}
