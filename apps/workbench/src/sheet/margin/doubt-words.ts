const KINDS: Readonly<Record<string, string>> = {
  material: 'how $ behaves',
  'rate-material': 'removal rate in $',
  'gap-material': 'spark gap in $',
  'ra-material': 'surface left in $',
  'recast-material': 'recast layer in $',
  'drill-rate-material': 'drilling rate in $',
  'material-property': 'properties of $',
  machine: 'machine $',
  wire: 'wire $',
  price: 'price of $',
  'level-areaRateMm2PerMin': 'area rate at level $',
  'level-feedMmPerMin': 'feed at level $',
  'level-gapMm': 'gap at level $',
  'level-raUm': 'surface left at level $',
  'level-recastUm': 'recast layer at level $',
  'machine-threadMin': 'threading time of $',
  'machine-fillMin': 'filling time of $',
  'machine-setUpMin': 'set-up time of $',
  'machine-perHoleMin': 'time per hole on $',
};

/** What a doubt belongs to, in words, e.g. `rate-material:D2` to `removal rate in D2`. */
export function doubtWords(cause: string): string {
  const at = cause.indexOf(':');
  const kind = at < 0 ? cause : cause.slice(0, at);
  const about = at < 0 ? '' : cause.slice(at + 1);
  const known = KINDS[kind];
  if (known !== undefined) return known.replace('$', about);
  if (kind === 'shop' || kind === 'rule') return `${spacedName(about)} (shop book)`;
  return about === '' || about === 'all' ? spacedName(kind) : `${spacedName(kind)}: ${about}`;
}

/** A name made of joined words as words, without the unit at its end: `setUpMin` to `set up`. */
function spacedName(name: string): string {
  return name
    .replace(/(Mm2PerMin|MmPerMin|PerMin|PerH|Min|Mm|Um)(?=$|Per)/g, '')
    .replaceAll(/[-_]/g, ' ')
    .replaceAll(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .trim();
}

/** Causes with their share of the variance, largest first; shares below 1 % are left out. */
export function doubtShares(doubts: Readonly<Record<string, number>> | undefined): {
  readonly cause: string;
  readonly share: number;
}[] {
  const entries = Object.entries(doubts ?? {});
  const total = entries.reduce((sum, [, sd]) => sum + sd * sd, 0);
  if (total === 0) return [];
  return entries
    .map(([cause, sd]) => ({ cause, share: (sd * sd) / total }))
    .filter((d) => d.share >= SMALLEST_SHARE)
    .sort((a, b) => b.share - a.share);
}

/** Below one in a hundred nobody would act on it. */
const SMALLEST_SHARE = 0.01;
