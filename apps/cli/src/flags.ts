/** One flag of the command line: its name, what it takes, and its line in the help. */
interface Flag {
  readonly name: string;
  /** What the value is called in the help; undefined for a switch. */
  readonly takes?: string;
  readonly says: string;
}

const flag = (name: string, takes: string | undefined, says: string): Flag =>
  takes === undefined ? { name, says } : { name, takes, says };

const COMMON_FLAGS: readonly Flag[] = [
  flag('json', undefined, 'Print one JSON object in place of tables (schema: docs/schema/).'),
  flag('shop', 'FILE', 'Shop book to use in place of the starting one.'),
  flag('help', undefined, 'Show this help.'),
];

const DRAWING_FLAGS: readonly Flag[] = [
  flag('units', 'UNIT', 'Units of the drawing: mm, cm, m, um, in or ft. Wins over the file’s own word.'),
  flag('join', 'MM', 'Close gaps between drawn entities up to this size; each one is listed. Default 0.01.'),
  flag('fit', 'UM', 'Largest deviation when splines and ellipses become arcs, in micrometres. Default 0.5.'),
  flag('layers', 'A,B', 'Layers to read; leave out notes, frames and title blocks. Default: all visible ones.'),
  flag('cut-layers', 'A,B', 'Layers to be cut; other layers only tell inside from outside. Default: all.'),
];

const REQUEST_FLAGS: readonly Flag[] = [
  flag('material', 'ID', 'Material grade, e.g. D2, 316L, Ti-6Al-4V.'),
  flag('height', 'MM', 'Height of one part along the wire.'),
  flag('ra', 'UM', 'Finest surface asked for, Ra in micrometres.'),
  flag('tol', 'MM', 'Profile tolerance, plus or minus.'),
  flag('qty', 'N', 'Number of drawings’ worth of parts. Default 1.'),
  flag('recast', 'UM', 'Deepest recast layer allowed.'),
  flag('corner', 'MM', 'Radius that inside corners drawn sharper may keep, as agreed with the customer.'),
  flag('part-side', 'SIDE', 'Side of open contours where the part lies: left or right of the drawn direction.'),
  flag('wire', 'ID', 'Use this wire of the shop book.'),
  flag('machine', 'ID', 'Use this machine of the shop book.'),
  flag('stack', 'N', 'Burn this many plates on top of each other.'),
  flag('price', 'AMOUNT', 'Price per piece to offer, in EUR.'),
  flag('quantities', 'A,B', 'Quantities for the price table.'),
  flag('post', 'FILE', 'Post definition in place of the ISO 6983-1 default.'),
  flag('seed', 'N', 'Start of the random numbers behind intervals and loss risk. Default 1.'),
];

export type CommandName =
  | 'read'
  | 'plan'
  | 'prove'
  | 'price'
  | 'why'
  | 'learn'
  | 'book import'
  | 'book compare'
  | 'book estimate'
  | 'serve';

/** One command of the command line; its name is one word or two. */
export interface Command {
  readonly name: CommandName;
  readonly says: string;
  /** Positional arguments as written in the help. */
  readonly operands: readonly string[];
  readonly flags: readonly Flag[];
}

export const COMMANDS: readonly Command[] = [
  {
    name: 'read',
    says: 'What is on the drawing: contours, sizes, repairs, problems.',
    operands: ['FILE.dxf'],
    flags: [...DRAWING_FLAGS, ...COMMON_FLAGS],
  },
  {
    name: 'plan',
    says: 'The whole plan with program, proof and price; --out writes programs and papers.',
    operands: ['FILE.dxf|JOB.json'],
    flags: [
      ...REQUEST_FLAGS,
      ...DRAWING_FLAGS,
      flag('out', 'DIR', 'Folder for the program, job file, papers, DXF of the offset paths and picture.'),
      flag('date', 'YYYY-MM-DD', 'Date printed on the papers. Default today.'),
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'prove',
    says: 'Erode the stock with a program text and compare with the drawing.',
    operands: ['PROGRAM'],
    flags: [
      flag('against', 'FILE.dxf', 'The drawing.'),
      flag('job', 'JOB.json', 'The job, with its set-up facts (written by plan --out).'),
      flag('post', 'FILE', 'Post definition in place of the ISO 6983-1 default.'),
      ...DRAWING_FLAGS,
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'price',
    says: 'Offer table with intervals, loss risk and what drives the price.',
    operands: ['JOB.json'],
    flags: [...REQUEST_FLAGS, ...DRAWING_FLAGS, ...COMMON_FLAGS],
  },
  {
    name: 'why',
    says: 'The working of one figure, e.g. totals.burnMin or operations.0.passes.0.offsetMm.',
    operands: ['FIGURE-PATH', 'JOB.json|PLAN.json'],
    flags: [
      ...REQUEST_FLAGS,
      ...DRAWING_FLAGS,
      flag('depth', 'N', 'How many levels of working to open. Default: all.'),
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'learn',
    says: 'Learn from measurements: any CSV with --response, or a burn log that corrects the shop book.',
    operands: ['FILE.csv'],
    flags: [
      flag('response', 'COLUMN', 'Column to be learnt from the others; without it the file is a burn log.'),
      flag('inputs', 'A,B', 'Columns to learn from. Default: every other numeric column that does not count rows.'),
      flag('out', 'BOOK.json', 'Write a new version of the shop book with what the burn log taught.'),
      flag('seed', 'N', 'Start of the random order in which rows are held out. Default 1.'),
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'book import',
    says: 'Take a table of burns into the technology book, units stated, with what is odd about it.',
    operands: ['FILE.csv|FILE.xlsx'],
    flags: [
      flag('map', 'MAP.json', 'Which column holds what, in which unit (docs/technology-book.md).'),
      flag('sheet', 'NAME', 'Sheet of the workbook. Default: the first.'),
      flag('into', 'BOOK.json', 'Book to add the burns to. Default: a new one.'),
      flag('out', 'NEW.json', 'Where to write the book; only the --into book may be there already.'),
      flag('replace', undefined, 'The table corrects burns of an earlier import: let it replace them.'),
      flag('name', 'NAME', 'Name of a new book. Default: the title of the source.'),
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'book compare',
    says: 'What changed from one technology book to another, in words.',
    operands: ['A.json', 'B.json'],
    flags: COMMON_FLAGS.filter((f) => f.name !== 'shop'),
  },
  {
    name: 'book estimate',
    says: 'One result between the burns of a technology book, with its interval and the nearest burns.',
    operands: ['BOOK.json'],
    flags: [
      flag('material', 'ID', 'Work material as the book names it.'),
      flag('response', 'WORD', 'What to estimate: rate, feed, ra, gap, wear, wear-ratio, recast or a quantity’s name.'),
      flag('at', 'NAME=N,…', 'Conditions, e.g. "pulse_on_us=50,current_A=8".'),
      flag('tool', 'NAME', 'Electrode, wire or tube, where the book has several.'),
      flag('process', 'NAME', 'wire, sinking or small-hole, where the book has several.'),
      ...COMMON_FLAGS,
    ],
  },
  {
    name: 'serve',
    says: 'The workbench in the browser: keeps jobs, books and burns, and answers this computer only.',
    operands: [],
    flags: [
      flag('port', 'N', 'Port to answer at. Default 7411; 0 takes any free one.'),
      flag('data', 'DIR', 'Folder of the database. Default: $XDG_DATA_HOME/gapwright or ~/.local/share/gapwright.'),
      ...COMMON_FLAGS.filter((f) => f.name === 'help'),
    ],
  },
];

/** Help of one command, or of all when none is named. */
export function helpText(name?: string): string {
  const command = COMMANDS.find((c) => c.name === name);
  if (command === undefined) {
    const width = Math.max(...COMMANDS.map((c) => c.name.length));
    return [
      'gapwright - process planning for spark erosion (EDM)',
      '',
      'Usage: gapwright COMMAND [operands] [flags]',
      '',
      ...COMMANDS.map((c) => `  ${c.name.padEnd(width)}  ${c.says}`),
      '',
      'gapwright COMMAND --help lists the flags of a command.',
      'Exit codes: 0 done; 1 done, but a requirement or the proof fails; 2 bad input; 3 our fault.',
    ].join('\n');
  }
  const left = command.flags.map((f) => `--${f.name}${f.takes === undefined ? '' : ` ${f.takes}`}`);
  const width = Math.max(...left.map((l) => l.length));
  return [
    `${['gapwright', command.name, ...command.operands].join(' ')} [flags]`,
    '',
    command.says,
    '',
    ...command.flags.map((f, i) => `  ${left[i]!.padEnd(width)}  ${f.says}`),
  ].join('\n');
}
