/**
 * A number with its 80 % interval, in the unit that the field's name gives. A number without doubt has
 * `low === value === high`. Every figure of the plan is one.
 */
export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A number without doubt. */
export function sure(value: number): Spread {
  return { value, low: value, high: value };
}
