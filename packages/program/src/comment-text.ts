import { type Problem, problem } from '@gapwright/base';
import type { PostDefinition } from './post-definition.js';

/** What stands for a character that neither the control nor the post's replacements know. */
const UNWRITABLE = '?';

/** Text as the post's comments can hold it, in pieces no longer than a comment may be. */
export function commentPieces(text: string, post: PostDefinition, problems: Problem[]): string[] {
  const { replace, style, longest } = post.comments;
  const lost = new Set<string>();
  let clean = '';
  for (const c of text.replace(/\s+/g, ' ').trim()) {
    const isPlain = c >= ' ' && c <= '~' && !(style === 'parentheses' ? c === '(' || c === ')' : c === ';');
    if (Object.hasOwn(replace, c)) clean += replace[c];
    else if (isPlain) clean += c;
    else {
      lost.add(c);
      clean += UNWRITABLE;
    }
  }
  if (lost.size > 0) {
    problems.push(
      problem({
        code: 'PROGRAM-COMMENT-CHARACTER',
        severity: 'info',
        what: `The comment "${clean}" cannot hold ${[...lost].join(' ')}; "${UNWRITABLE}" stands for it`,
        fix: 'Add the character to comments.replace of the post definition',
      }),
    );
  }
  return wrap(clean.trim(), longest);
}

function wrap(text: string, longest: number): string[] {
  const pieces: string[] = [];
  let rest = text;
  while (rest.length > longest) {
    const space = rest.lastIndexOf(' ', longest);
    const cut = space > 0 ? space : longest;
    pieces.push(rest.slice(0, cut).trimEnd());
    rest = rest.slice(cut).trimStart();
  }
  if (rest !== '') pieces.push(rest);
  return pieces;
}
