/** Where a word on screen may come from. */
export const ORIGINS = ['trade', 'standard', 'plain', 'ours'] as const;

export interface Word {
  /** As on screen; `…` stands for a number, a name or another word of the list. */
  readonly label: string;
  readonly origin: string;
  readonly note: string;
}

/** The rows of all tables of the word list whose first cell is a label. */
export function readWordList(markdown: string): readonly Word[] {
  const words: Word[] = [];
  for (const line of markdown.split('\n')) {
    if (!line.startsWith('|')) continue;
    const [, label, origin, note] = line.split(/(?<!\\)\|/).map((cell) => cell.trim().replaceAll('\\|', '|'));
    if (label === undefined || !ORIGINS.some((known) => known === origin)) continue;
    words.push({ label: tidy(label), origin: origin ?? '', note: note ?? '' });
  }
  return words;
}

/** Words and numbers that belong to a job, a book or a day and so are no names of ours. */
export class JobWords {
  private readonly pattern: RegExp;

  constructor(words: Iterable<string>) {
    // The longest first, so that a title goes before a word inside it.
    const longestFirst = [...new Set(words)].filter((w) => w.trim() !== '').sort((a, b) => b.length - a.length);
    const any = longestFirst.map((w) => w.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|');
    this.pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${any})(?![\\p{L}\\p{N}])`, 'gu');
  }

  /** The name with job words, days and numbers left open as `…`. */
  leaveOpen(name: string): string {
    const days =
      /\b(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day\b|\b\d{1,2} (?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\w*\b/g;
    const numbers = /[±+−-]?(?<![\p{L}])\d(?:[\d.,:–-]*\d)?/gu;
    // Features, holes and touches get their ids from the plan.
    const ids = /\b[FHT]\d+\b/g;
    return tidy(name.replace(this.pattern, '…').replace(ids, '…').replace(days, '…').replace(numbers, '…'));
  }
}

/** One space between words; what is open stays open however many words it has. */
function tidy(name: string): string {
  return name
    .replace(/\s+/g, ' ')
    .replace(/…(?:[\s,]*…)+/g, '…')
    .trim();
}

/** Units as the page writes them behind numbers and in heads of tables. */
const UNIT =
  '(?:mm²/min|mm/min|mm/kg|mm²|mm|m/min|µm|µΩ m|min|h|kg|g/cm³|N/mm²|N/m|N|EUR/kg|EUR/h|EUR/m|EUR|J/\\(g K\\)|J/g|W/\\(m K\\)|W|°C|g|m|%|in)';
const UNIT_AT_END = new RegExp(` ${UNIT}$`, 'u');
const UNITS = new RegExp(`(?<![\\p{L}])${UNIT}(?![\\p{L}])`, 'gu');

/** Finds out whether a name stands in the list. */
export class WordFinder {
  private readonly exact = new Set<string>();
  private readonly open: readonly RegExp[];

  constructor(words: readonly Word[]) {
    for (const { label } of words) this.exact.add(label);
    this.open = words
      .filter(({ label }) => label.includes('…'))
      .map(({ label }) => {
        const parts = label.split('…').map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
        return new RegExp(`^${parts.join('.+')}$`, 'u');
      });
  }

  /** True when the name, without the unit it ends in, is listed or is no more than numbers with units. */
  has(name: string): boolean {
    const bare = name.replace(UNIT_AT_END, '').trim();
    return [name, bare].some(
      (n) => !/\p{L}/u.test(n.replace(UNITS, '')) || this.exact.has(n) || this.open.some((pattern) => pattern.test(n)),
    );
  }
}
