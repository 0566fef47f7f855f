import { type Problem, placeText } from '@gapwright/base';
import { wrap } from '../text-table.js';

const WORDS: Readonly<Record<Problem['severity'], string>> = { stop: 'STOP', warn: 'WARN', info: 'note' };

/** Most problems of one code shown in full; the rest are counted. */
const SHOWN_PER_CODE = 5;

/** Problems as sentences, worst first; many of one kind are counted. */
export function problemLines(problems: readonly Problem[]): string {
  if (problems.length === 0) return '';
  const order = ['stop', 'warn', 'info'];
  const sorted = [...problems].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity));
  const shown = new Map<string, number>();
  const lines: string[] = [];
  for (const p of sorted) {
    const count = (shown.get(p.code) ?? 0) + 1;
    shown.set(p.code, count);
    if (count > SHOWN_PER_CODE) continue;
    const place = placeText(p.at);
    const tail = place === '' || p.message.includes(place) ? '' : ` [${place}]`;
    lines.push(wrap(`${WORDS[p.severity]}  ${p.message}${tail} (${p.code})`, 100, '      '));
  }
  for (const [code, count] of shown) {
    if (count > SHOWN_PER_CODE) lines.push(`      and ${count - SHOWN_PER_CODE} more of ${code}`);
  }
  return lines.join('\n');
}
