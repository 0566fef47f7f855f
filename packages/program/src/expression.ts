/** A failed expression: where in the text, and what is wrong. */
export interface ExpressionFailure {
  readonly at: number;
  readonly what: string;
}

export interface ExpressionValue {
  readonly value: number;
  /** Index behind the expression. */
  readonly end: number;
}

/** A parameter setting; it takes effect when the whole block has been read. */
export interface Assignment {
  readonly parameter: number;
  readonly value: number;
  readonly end: number;
}

/** Deepest nesting of brackets; deeper is a fault in the program and would only cost stack. */
const DEEPEST = 60;
/** Highest parameter number, as in the NIST RS274/NGC interpreter (1 to 5400). */
const LAST_PARAMETER = 5400;

const RAD = Math.PI / 180;

/** How strongly binary operators bind; higher first, equal ones from the left. Powers bind most, then products, then the rest. */
const BINDING: Readonly<Record<string, number>> = {
  '**': 3,
  '*': 2,
  '/': 2,
  MOD: 2,
  '+': 1,
  '-': 1,
  OR: 1,
  XOR: 1,
  AND: 1,
};

const UNARY: Readonly<Record<string, (x: number) => number>> = {
  ABS: Math.abs,
  ACOS: (x) => Math.acos(x) / RAD,
  ASIN: (x) => Math.asin(x) / RAD,
  COS: (x) => Math.cos(x * RAD),
  EXP: Math.exp,
  FIX: Math.floor,
  FUP: Math.ceil,
  LN: Math.log,
  ROUND: (x) => Math.sign(x) * Math.round(Math.abs(x)),
  SIN: (x) => Math.sin(x * RAD),
  SQRT: Math.sqrt,
  TAN: (x) => Math.tan(x * RAD),
};

function binary(operator: string, a: number, b: number): number {
  switch (operator) {
    case '**':
      return a ** b;
    case '*':
      return a * b;
    case '/':
      return a / b;
    case 'MOD':
      return a - b * Math.floor(a / b);
    case '+':
      return a + b;
    case '-':
      return a - b;
    case 'OR':
      return a !== 0 || b !== 0 ? 1 : 0;
    case 'XOR':
      return (a !== 0) !== (b !== 0) ? 1 : 0;
    default:
      return a !== 0 && b !== 0 ? 1 : 0;
  }
}

/**
 * Values in the manner of RS274/NGC: numbers, `#n` parameters, `[a + b]` and unary functions in degrees.
 * Holds the parameters of one program. Only posts with `reading.expressions` use it.
 */
export class ExpressionReader {
  private readonly parameters = new Map<number, number>();
  private text = '';
  private at = 0;
  private end = 0;
  private depth = 0;
  private failure: ExpressionFailure | null = null;

  /** Reads one value starting at `from`. */
  value(text: string, from: number, end: number): ExpressionValue | ExpressionFailure {
    this.start(text, from, end);
    const value = this.operand();
    return this.failure ?? { value, end: this.at };
  }

  /** Reads `#n = value` starting at the `#`. */
  assignment(text: string, from: number, end: number): Assignment | ExpressionFailure {
    this.start(text, from + 1, end);
    const parameter = this.parameterNumber();
    this.skipSpace();
    if (this.failure === null && this.text[this.at] !== '=') this.fail('"=" is missing behind the parameter');
    this.at++;
    const value = this.operand();
    return this.failure ?? { parameter, value, end: this.at };
  }

  /** Sets the parameters of one block together. */
  assign(list: readonly Assignment[]): void {
    for (const { parameter, value } of list) this.parameters.set(parameter, value);
  }

  private start(text: string, from: number, end: number): void {
    this.text = text;
    this.at = from;
    this.end = end;
    this.depth = 0;
    this.failure = null;
  }

  private fail(what: string): number {
    this.failure ??= { at: Math.min(this.at, this.end), what };
    return 0;
  }

  private skipSpace(): void {
    while (this.at < this.end && (this.text[this.at] === ' ' || this.text[this.at] === '\t')) this.at++;
  }

  private parameterNumber(): number {
    const number = this.operand();
    if (this.failure !== null) return 0;
    if (!Number.isInteger(number) || number < 1 || number > LAST_PARAMETER) {
      return this.fail(`parameter number ${number} is not a whole number from 1 to ${LAST_PARAMETER}`);
    }
    return number;
  }

  private operand(): number {
    if (this.failure !== null) return 0;
    this.skipSpace();
    if (this.at >= this.end) return this.fail('a value is missing');
    if (++this.depth > DEEPEST) return this.fail(`brackets are nested more than ${DEEPEST} deep`);
    const value = this.anyOperand();
    this.depth--;
    if (this.failure === null && !Number.isFinite(value)) return this.fail('the value is not a finite number');
    return value;
  }

  private anyOperand(): number {
    const c = this.text[this.at]!;
    if (c === '[') return this.bracket();
    if (c === '#') {
      this.at++;
      const parameter = this.parameterNumber();
      if (this.failure !== null) return 0;
      return this.parameters.get(parameter) ?? this.fail(`parameter #${parameter} is used but never set`);
    }
    if (/[a-z]/i.test(c)) return this.unary();
    NUMBER.lastIndex = this.at;
    const match = NUMBER.exec(this.text);
    if (match === null || this.at + match[0].length > this.end) return this.fail(`"${c}" starts no value`);
    this.at += match[0].length;
    return Number(match[0]);
  }

  private unary(): number {
    NAME.lastIndex = this.at;
    const name = NAME.exec(this.text)![0].toUpperCase();
    if (name === 'ATAN') {
      this.at += name.length;
      const above = this.bracket();
      this.skipSpace();
      if (this.failure === null && this.text[this.at] !== '/') return this.fail('ATAN needs two brackets: ATAN[a]/[b]');
      this.at++;
      const below = this.bracket();
      return Math.atan2(above, below) / RAD;
    }
    const f = Object.hasOwn(UNARY, name) ? UNARY[name] : undefined;
    if (f === undefined) return this.fail(`"${name}" is no function`);
    this.at += name.length;
    return f(this.bracket());
  }

  private bracket(): number {
    if (this.failure !== null) return 0;
    this.skipSpace();
    if (this.at >= this.end || this.text[this.at] !== '[') return this.fail('"[" is missing');
    this.at++;
    const value = this.sum(1);
    if (this.failure !== null) return 0;
    this.skipSpace();
    if (this.at >= this.end || this.text[this.at] !== ']') return this.fail('"]" is missing');
    this.at++;
    return value;
  }

  /** Operators that bind at least as strongly as `least`. */
  private sum(least: number): number {
    let left = this.operand();
    for (;;) {
      if (this.failure !== null) return 0;
      const operator = this.operator();
      const binding = operator === null ? 0 : BINDING[operator]!;
      if (operator === null || binding < least) return left;
      this.at += operator.length;
      const right = this.sum(binding + 1);
      left = binary(operator, left, right);
    }
  }

  private operator(): string | null {
    this.skipSpace();
    if (this.at >= this.end) return null;
    OPERATOR.lastIndex = this.at;
    return OPERATOR.exec(this.text)?.[0].toUpperCase() ?? null;
  }
}

const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)/y;
const NAME = /[a-z]+/iy;
const OPERATOR = /\*\*|[*/+-]|MOD|XOR|AND|OR/iy;
