declare module 'gcode-interpreter' {
  /** One line as the library takes it apart. */
  export interface InterpretedLine {
    readonly line: string;
    readonly words: readonly (readonly [letter: string, value: number | string])[];
    readonly ln?: number;
  }
  type Handler = (args: Readonly<Record<string, number>>) => void;
  export default class Interpreter {
    constructor(options: { readonly handlers?: Readonly<Record<string, Handler>> });
    loadFromStringSync(text: string): InterpretedLine[];
  }
}
