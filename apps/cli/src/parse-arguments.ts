import { parseArgs } from 'node:util';
import { COMMANDS, type Command } from './flags.js';
import { InputError } from './input-error.js';

/** What was typed, checked for shape only: a command, its operands and its flags as text. */
export interface TypedArguments {
  readonly command: Command;
  readonly operands: readonly string[];
  readonly flags: Readonly<Record<string, string | true>>;
}

/** Reads the command line. Throws {@link InputError} with one clear sentence. Returns null when help is asked for. */
export function parseArguments(argv: readonly string[]): TypedArguments | { readonly helpFor: string | undefined } {
  const [name, ...words] = argv;
  if (name === undefined || name === 'help' || name === '--help' || name === '-h') {
    return { helpFor: words.length === 0 ? undefined : words.join(' ') };
  }
  const command = COMMANDS.find((c) => c.name.split(' ').every((word, k) => word === argv[k]));
  if (command === undefined) return unknownCommand(name, words[0]);
  const rest = argv.slice(command.name.split(' ').length);
  const names = command.flags.map((f) => f.name);
  const { tokens } = parseArgs({
    args: [...rest],
    options: Object.fromEntries(
      command.flags.map((f) => [f.name, { type: f.takes === undefined ? ('boolean' as const) : ('string' as const) }]),
    ),
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const operands: string[] = [];
  const flags: Record<string, string | true> = {};
  for (const token of tokens) {
    if (token.kind === 'positional') operands.push(token.value);
    if (token.kind !== 'option') continue;
    const flag = command.flags.find((f) => f.name === token.name);
    if (flag === undefined) {
      throw new InputError(
        `gapwright ${command.name} has no flag ${token.rawName}. ${suggestion(token.name, names, '--')}`,
      );
    }
    if (flag.takes === undefined) {
      if (token.value !== undefined) throw new InputError(`--${flag.name} takes no value. Write it alone.`);
      flags[flag.name] = true;
    } else {
      if (token.value === undefined || token.value === '') {
        throw new InputError(`--${flag.name} needs a value (${flag.takes}). Write --${flag.name} ${flag.takes}.`);
      }
      if (flags[flag.name] !== undefined) throw new InputError(`--${flag.name} is given twice. Give it once.`);
      flags[flag.name] = token.value;
    }
  }
  if (flags.help) return { helpFor: command.name };
  if (operands.length !== command.operands.length) {
    throw new InputError(
      `gapwright ${command.name} takes ${command.operands.join(' ') || 'flags only'}, got ${operands.length === 0 ? 'nothing' : operands.join(' ')}. See gapwright ${command.name} --help.`,
    );
  }
  return { command, operands, flags };
}

/** The one clear sentence about a command there is not; help, when a first word of two asks for it. */
function unknownCommand(name: string, next: string | undefined): { readonly helpFor: string } {
  const firsts = COMMANDS.map((c) => c.name.split(' ')[0]!);
  const seconds = COMMANDS.filter((c) => c.name.startsWith(`${name} `)).map((c) => c.name.slice(name.length + 1));
  if (seconds.length === 0) {
    throw new InputError(`There is no command "${name}". ${suggestion(name, [...new Set(firsts)])}`);
  }
  if (next === '--help' || next === '-h') return { helpFor: name };
  const example = `Write gapwright ${name} ${seconds[0]}`;
  throw new InputError(
    next === undefined
      ? `gapwright ${name} is followed by ${seconds.join(', ')}. ${example}.`
      : `There is no command "${name} ${next}". ${suggestion(next, seconds)}`,
  );
}

/** A plain number from a flag; a decimal comma or trailing text is an error, never half read. */
export function numberFlag(flags: TypedArguments['flags'], name: string): number | undefined {
  const text = flags[name];
  if (text === undefined || text === true) return undefined;
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text)) {
    const hint = /^[+-]?\d+,\d+$/.test(text) ? `Write ${text.replace(',', '.')}` : 'Write a number such as 0.8';
    throw new InputError(`--${name} ${text === '' ? 'has an empty entry' : `${text} is not a number`}. ${hint}.`);
  }
  return Number(text);
}

/** A whole number from 0 from a flag. */
export function countFlag(flags: TypedArguments['flags'], name: string): number | undefined {
  const value = numberFlag(flags, name);
  if (value !== undefined && !(Number.isSafeInteger(value) && value >= 0)) {
    throw new InputError(`--${name} ${value} is not a whole number from 0. Write one such as 3.`);
  }
  return value;
}

/** A comma-separated list from a flag. */
export function listFlag(flags: TypedArguments['flags'], name: string): string[] | undefined {
  const text = flags[name];
  if (text === undefined || text === true) return undefined;
  return text.split(',').map((part) => part.trim());
}

export function textFlag(flags: TypedArguments['flags'], name: string): string | undefined {
  const text = flags[name];
  return text === true ? undefined : text;
}

/** The nearest known name, when one is near enough to be meant. */
function suggestion(typed: string, known: readonly string[], prefix = ''): string {
  let best: string | undefined;
  let bestDistance = 3;
  for (const name of known) {
    const distance = editDistance(typed, name);
    if (distance < bestDistance) [best, bestDistance] = [name, distance];
  }
  if (best !== undefined) return `Did you mean ${prefix}${best}?`;
  return `Known: ${known.map((n) => prefix + n).join(', ')}.`;
}

/** Levenshtein distance. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
    }
    row = next;
  }
  return row[b.length]!;
}
