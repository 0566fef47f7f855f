import { hasStop, type Problem, type Result } from '@gapwright/base';
import { BlockScanner } from './block-scanner.js';
import { compilePost } from './compiled-post.js';
import type { Motion } from './motion.js';
import { MotionReader } from './motion-reader.js';
import type { PostDefinition } from './post-definition.js';

/**
 * Reads program text back to motion, knowing nothing but the text and the post definition.
 *
 * Strict: the first thing that is not understood is the one problem returned, with line and column, and no motion
 * comes out. Blocks that start with `/` are refused, because a switch at the machine decides whether they run.
 * Text after the end must hold comments only.
 */
export function readProgram(text: string, post: PostDefinition): Result<Motion[]> {
  const { reader, problems } = readBlocks(text, post);
  if (hasStop(problems)) return { value: null, problems };
  const missing = reader.unfinished();
  return missing === null ? { value: reader.motions, problems } : { value: null, problems: [missing] };
}

/** Reads blocks without asking for an end; the reader then holds the modal state. */
export function readBlocks(
  text: string,
  post: PostDefinition,
): { readonly reader: MotionReader; readonly problems: readonly Problem[] } {
  const scanner = new BlockScanner(text, post);
  const reader = new MotionReader(compilePost(post));
  for (let block = scanner.next(); block !== null; block = scanner.next()) {
    const problem = reader.take(block);
    if (problem !== null) return { reader, problems: [problem] };
  }
  return { reader, problems: scanner.failure === null ? [] : [scanner.failure] };
}
