import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Result } from '@gapwright/base';
import { parseShopBook, type ShopBook } from '@gapwright/process';
import { type PostDefinition, parsePost } from '@gapwright/program';
import { InputError } from './input-error.js';

/** Root of the installed program; both src/ and dist/ lie three folders below it. */
const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../../..');

const STARTING_SHOP_BOOK = join(ROOT, 'shop/starting-shop-book.json');
const STARTING_POST = join(ROOT, 'shop/posts/iso-6983.json');

/** Larger files are refused: no drawing or program of one part comes near it, bytes. */
const MOST_BYTES = 256 * 1024 * 1024;

export function readBytes(path: string): Uint8Array {
  try {
    const { size } = statSync(path);
    if (size > MOST_BYTES) {
      const limit = MOST_BYTES / 1024 / 1024;
      throw new InputError(
        `${path} has ${Math.round(size / 1024 / 1024)} MB; at most ${limit} MB can be read. Export only the part.`,
      );
    }
    return readFileSync(path);
  } catch (error) {
    if (error instanceof InputError) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    const why = code === 'ENOENT' ? 'does not exist' : code === 'EISDIR' ? 'is a folder' : `cannot be read (${code})`;
    throw new InputError(`${path} ${why}. Give the path of a file.`);
  }
}

export function readText(path: string): string {
  return new TextDecoder().decode(readBytes(path));
}

export function writeFileIn(dir: string, name: string, content: string | Uint8Array): string {
  const path = join(dir, name);
  try {
    makeFolder(dir);
    writeFileSync(path, content);
  } catch (error) {
    throw new InputError(
      `${path} cannot be written (${(error as NodeJS.ErrnoException).code}). Give --out a folder that can be.`,
    );
  }
  return path;
}

/**
 * Makes a folder and those above it. One by one: asked for all at once, Node tries for ever where a file system refuses
 * new folders without saying so, as /proc does.
 */
function makeFolder(dir: string): void {
  if (existsSync(dir)) return;
  const parent = dirname(dir);
  if (parent !== dir) makeFolder(parent);
  mkdirSync(dir);
}

/** A JSON data file checked by its room; the first fault becomes the one clear error. */
function loadJson<T>(path: string, parse: (data: unknown) => Result<T>): T {
  let data: unknown;
  try {
    data = JSON.parse(readText(path));
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(`${path} is not JSON: ${(error as Error).message}.`);
  }
  const { value, problems } = parse(data);
  if (value === null) throw new InputError(`${path}: ${problems[0]?.message ?? 'cannot be used.'}`);
  return value;
}

/** The shop book in use: the given one or the starting book. */
export function shopBookPath(path?: string): string {
  return path ?? STARTING_SHOP_BOOK;
}

export function loadShopBook(path = STARTING_SHOP_BOOK): ShopBook {
  return loadJson(path, parseShopBook);
}

export function loadPost(path = STARTING_POST): PostDefinition {
  return loadJson(path, parsePost);
}
