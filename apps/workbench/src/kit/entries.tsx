import { lengthNumber, parseLength, parseNumber, trim, useDisplay } from '../units/index.js';
import { type EntryProps, TypedEntry } from './text-entry.js';

export interface NumberEntryProps extends EntryProps<number | null> {
  readonly min?: number;
  readonly max?: number;
  /** An empty box means "not stated" (null). */
  readonly mayBeEmpty?: boolean;
  readonly decimals?: number;
}

function outside(value: number, { min, max, label }: NumberEntryProps, show: (v: number) => string): string | null {
  if (min !== undefined && value < min) return `${label}: at least ${show(min)}.`;
  if (max !== undefined && value > max) return `${label}: at most ${show(max)}.`;
  return null;
}

/** A length, shown and typed in the unit of the page, kept in mm. */
export function LengthEntry(props: NumberEntryProps) {
  const { unit } = useDisplay();
  const show = (mm: number): string => lengthNumber(mm, unit, unit === 'mm' ? 4 : 5);
  return (
    <TypedEntry<number | null>
      {...props}
      numeric
      unit={unit === 'mm' ? 'mm' : 'in'}
      show={(mm) => (mm === null ? '' : show(mm))}
      read={(text) => {
        if (text.trim() === '' && props.mayBeEmpty) return { value: null };
        const read = parseLength(text, unit);
        if ('fault' in read) return read;
        const fault = outside(read.mm, props, (v) => `${show(v)} ${unit === 'mm' ? 'mm' : 'in'}`);
        return fault === null ? { value: read.mm } : { fault };
      }}
    />
  );
}

/** A plain number with a fixed unit. */
export function NumberEntry(props: NumberEntryProps) {
  const show = (value: number): string => trim(value, props.decimals ?? 6);
  return (
    <TypedEntry<number | null>
      {...props}
      numeric
      show={(value) => (value === null ? '' : show(value))}
      read={(text) => {
        if (text.trim() === '' && props.mayBeEmpty) return { value: null };
        const read = parseNumber(text);
        if ('fault' in read) return read;
        const fault = outside(read.value, props, show);
        if (fault !== null) return { fault };
        if (props.decimals === 0 && !Number.isInteger(read.value)) return { fault: `${props.label}: a whole number.` };
        return { value: read.value };
      }}
    />
  );
}

export function TextEntry(props: EntryProps<string> & { readonly lines?: number; readonly maxLetters?: number }) {
  const { maxLetters } = props;
  return (
    <TypedEntry<string>
      {...props}
      show={(text) => text}
      read={(text) =>
        maxLetters !== undefined && text.length > maxLetters
          ? { fault: `${props.label}: at most ${maxLetters} letters; there are ${text.length}.` }
          : { value: text }
      }
    />
  );
}
