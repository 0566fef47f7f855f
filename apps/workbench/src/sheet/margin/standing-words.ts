import type { Standing } from '@gapwright/base';

const WORDS: Readonly<Record<Standing, string>> = {
  published: 'Published; read in the source',
  'from memory': 'From memory; believed to stand in this source, not read there',
  'common practice': 'Common practice in the trade; no source stands behind it',
  computed: 'Follows from what it is; nothing to believe',
  shop: 'From this shop’s own book',
  job: 'Stated for this job',
};

/** How sure we may be of a source, in words. */
export function standingWords(standing: Standing): string {
  return WORDS[standing];
}
