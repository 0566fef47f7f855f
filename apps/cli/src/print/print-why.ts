import { figureText } from '@gapwright/base';
import type { Why, WorkingNode } from '@gapwright/job';
import { wrap } from '../text-table.js';
import { percent } from './numbers.js';

/** The working of a figure as an indented tree, then the doubts behind its interval. */
export function whyText(why: Why): string {
  const out: string[] = [];
  const show = (node: WorkingNode, depth: number): void => {
    const indent = '  '.repeat(depth);
    const law = node.formula === null ? '' : ` = ${node.formula}`;
    const source = `[${node.source.standing}: ${node.source.title}${node.source.where === undefined ? '' : `, ${node.source.where}`}]`;
    const above = node.seenAbove ? ' (opened above)' : '';
    out.push(wrap(`${indent}${node.name} = ${figureText(node)}${law}`, 100, `${indent}    `));
    out.push(wrap(`${indent}    ${node.says} ${source}${above}`, 100, `${indent}    `));
    for (const outside of node.outsideRange) out.push(`${indent}    outside its range: ${outside}`);
    for (const input of node.inputs) show(input, depth + 1);
  };
  show(why.working, 0);
  if (why.doubts.length > 0) {
    out.push('', 'What the interval comes from:');
    for (const { cause, share } of why.doubts.slice(0, 8)) out.push(`  ${percent(share).padStart(5)}  ${cause}`);
  }
  return out.join('\n');
}
