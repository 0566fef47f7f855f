/** The little that tests use of js-quantities, which brings no types. */
declare module 'js-quantities' {
  class Qty {
    constructor(text: string);
    constructor(value: number, unit: string);
    mul(other: Qty | number): Qty;
    div(other: Qty | number): Qty;
    to(unit: string): Qty;
    readonly scalar: number;
  }
  export default Qty;
}
