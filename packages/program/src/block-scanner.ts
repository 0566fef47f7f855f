import type { Problem } from '@gapwright/base';
import { type Assignment, ExpressionReader } from './expression.js';
import type { PostDefinition } from './post-definition.js';
import { readFailure } from './read-failure.js';

/** A letter with its number, as it stands in the text. */
export interface Word {
  readonly letter: string;
  readonly value: number;
  /** Digits after the point; -1 when the number has no point. */
  readonly decimals: number;
  /** True when the number came out of an expression or parameter: its digits are no property of the text. */
  readonly computed: boolean;
  readonly column: number;
}

export interface Comment {
  readonly text: string;
  readonly column: number;
}

/** One line of program text, taken apart but not yet understood. */
export interface Block {
  readonly line: number;
  readonly words: readonly Word[];
  readonly comments: readonly Comment[];
  /** Column of a `%`, 0 when there is none. */
  readonly tapeMark: number;
}

const CR = 13;
const SPACE = 32;
const TAB = 9;
/** Longest number whose digits a double still holds exactly. */
const MOST_DIGITS = 15;

/** True for the code of a decimal digit. */
function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** Takes text apart block by block. After {@link failure} is set, nothing more comes. */
export class BlockScanner {
  failure: Problem | null = null;
  private at = 0;
  private line = 0;
  private lineStart = 0;
  private lineEnd = 0;
  private readonly opensComment: number;
  private readonly expressions: ExpressionReader | null;

  constructor(
    private readonly text: string,
    private readonly post: PostDefinition,
  ) {
    this.opensComment = post.comments.style === 'parentheses' ? 40 : 59;
    this.expressions = post.reading.expressions ? new ExpressionReader() : null;
  }

  /** The next line, or null at the end of the text or after a failure. */
  next(): Block | null {
    const { text } = this;
    if (this.failure !== null || this.at >= text.length) return null;
    this.line++;
    this.lineStart = this.at;
    const feed = text.indexOf('\n', this.at);
    const stop = feed === -1 ? text.length : feed;
    this.lineEnd = stop > this.at && text.charCodeAt(stop - 1) === CR && feed !== -1 ? stop - 1 : stop;
    const block = this.takeApart();
    this.at = feed === -1 ? text.length : feed + 1;
    return this.failure === null ? block : null;
  }

  private fail(code: string, at: number, what: string, fix: string): null {
    this.failure ??= readFailure(code, this.line, at - this.lineStart + 1, what, fix);
    return null;
  }

  private takeApart(): Block | null {
    const { text, lineEnd, post } = this;
    const words: Word[] = [];
    const comments: Comment[] = [];
    const assignments: Assignment[] = [];
    let tapeMark = 0;
    while (this.at < lineEnd) {
      const start = this.at;
      let code = text.charCodeAt(start);
      if (code === SPACE || code === TAB) {
        this.at++;
        continue;
      }
      if (code === this.opensComment) {
        const comment = this.comment();
        if (comment === null) return null;
        comments.push(comment);
        continue;
      }
      if (code >= 97 && code <= 122) {
        if (!post.reading.lowerCase) {
          return this.fail('LOWER-CASE', start, `"${text[start]}" is a small letter`, 'Write words in capital letters');
        }
        code -= 32;
      }
      if (code >= 65 && code <= 90) {
        const word = this.word(String.fromCharCode(code));
        if (word === null) return null;
        words.push(word);
        continue;
      }
      if (code === 37) {
        if (words.length > 0 || tapeMark > 0) {
          return this.fail('TAPE-MARK', start, '"%" stands inside a block', 'Put "%" on a line of its own');
        }
        tapeMark = start - this.lineStart + 1;
        this.at++;
        continue;
      }
      if (code === 35 && this.expressions !== null) {
        const assignment = this.expressions.assignment(text, start, lineEnd);
        if ('what' in assignment)
          return this.fail('EXPRESSION', assignment.at, assignment.what, 'Correct the expression');
        assignments.push(assignment);
        this.at = assignment.end;
        continue;
      }
      return this.unexpected(start, code);
    }
    if (tapeMark > 0 && words.length > 0) {
      return this.fail('TAPE-MARK', this.lineStart + tapeMark - 1, 'words follow "%"', 'Put "%" on a line of its own');
    }
    // Parameters of one block are set together, after every word of it has been read.
    if (assignments.length > 0) this.expressions!.assign(assignments);
    return { line: this.line, words, comments, tapeMark };
  }

  private unexpected(start: number, code: number): null {
    if (code === 47) {
      return this.fail(
        'BLOCK-SKIP',
        start,
        'the block can be skipped by a switch at the machine, so what it does is not known here',
        'Remove the "/" or the block',
      );
    }
    if (code === 44)
      return this.fail('DECIMAL-COMMA', start, 'a comma in a block', 'Write numbers with a decimal point');
    const shown =
      code > SPACE && code < 127 ? `"${this.text[start]}"` : `character U+${code.toString(16).padStart(4, '0')}`;
    return this.fail('UNKNOWN-CHARACTER', start, `${shown} has no meaning here`, 'Remove it or put it into a comment');
  }

  private comment(): Comment | null {
    const { text, at: start, lineEnd } = this;
    const column = start - this.lineStart + 1;
    if (this.opensComment === 59) {
      this.at = lineEnd;
      const from = text.charCodeAt(start + 1) === SPACE ? start + 2 : start + 1;
      return { text: text.slice(Math.min(from, lineEnd), lineEnd), column };
    }
    for (let i = start + 1; i < lineEnd; i++) {
      const code = text.charCodeAt(i);
      if (code === 41) {
        this.at = i + 1;
        return { text: text.slice(start + 1, i), column };
      }
      if (code === 40)
        return this.fail('COMMENT-IN-COMMENT', i, '"(" inside a comment', 'Close the comment with ")" first');
    }
    return this.fail('COMMENT-OPEN', start, 'the comment is not closed on its line', 'Close it with ")"');
  }

  private word(letter: string): Word | null {
    const { text, lineEnd } = this;
    const start = this.at;
    const column = start - this.lineStart + 1;
    let i = start + 1;
    const code = text.charCodeAt(i);
    if (code === SPACE || code === TAB) {
      let j = i;
      while (j < lineEnd && (text.charCodeAt(j) === SPACE || text.charCodeAt(j) === TAB)) j++;
      if (!this.post.reading.spacesInsideWords) {
        return this.fail(
          'WORD-WITHOUT-NUMBER',
          start,
          `${letter} has no number`,
          'Write the number right behind its letter',
        );
      }
      i = j;
    }
    if (this.expressions !== null && i < lineEnd && !'+-.0123456789'.includes(text[i]!)) {
      return this.computedWord(letter, i, column);
    }
    let sign = 1;
    const first = text.charCodeAt(i);
    if (i < lineEnd && (first === 45 || first === 43)) {
      if (first === 45) sign = -1;
      i++;
    }
    const digitsFrom = i;
    let point = -1;
    let value = 0;
    for (; i < lineEnd; i++) {
      const c = text.charCodeAt(i);
      if (isDigit(c)) value = value * 10 + (c - 48);
      else if (c === 46 && point < 0) point = i;
      else break;
    }
    const digits = i - digitsFrom - (point < 0 ? 0 : 1);
    if (digits === 0) {
      return this.fail(
        'WORD-WITHOUT-NUMBER',
        start,
        `${letter} has no number`,
        'Write the number right behind its letter',
      );
    }
    if (digits > MOST_DIGITS) {
      return this.fail(
        'BAD-NUMBER',
        digitsFrom,
        `the number of ${letter} has ${digits} digits`,
        `Use at most ${MOST_DIGITS}`,
      );
    }
    if (i < lineEnd && text.charCodeAt(i) === 46) {
      return this.fail('BAD-NUMBER', i, `the number of ${letter} has two decimal points`, 'Leave one');
    }
    if (i < lineEnd && text.charCodeAt(i) === 44) {
      return this.fail('DECIMAL-COMMA', i, `a comma in the number of ${letter}`, 'Write a decimal point');
    }
    this.at = i;
    const decimals = point < 0 ? -1 : i - point - 1;
    // Adding 0 makes a plain zero of -0.
    const size = decimals > 0 ? value / 10 ** decimals : value;
    return { letter, value: sign * size + 0, decimals, computed: false, column };
  }

  private computedWord(letter: string, from: number, column: number): Word | null {
    const result = this.expressions!.value(this.text, from, this.lineEnd);
    if ('what' in result) return this.fail('EXPRESSION', result.at, result.what, 'Correct the expression');
    this.at = result.end;
    return { letter, value: result.value, decimals: -1, computed: true, column };
  }
}
