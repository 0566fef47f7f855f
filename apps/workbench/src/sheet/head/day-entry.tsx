import { TypedEntry } from '../../kit/index.js';

interface DayEntryProps {
  readonly label: string;
  readonly value: string | undefined;
  readonly isDisabled?: boolean;
  readonly onCommit: (day: string | undefined) => void;
}

/** A day as ISO 8601 writes it; the box takes `2026-12-04` and `4.12.2026` alike. */
export function DayEntry({ label, value, isDisabled = false, onCommit }: DayEntryProps) {
  return (
    <TypedEntry<string>
      label={label}
      value={value ?? ''}
      isDisabled={isDisabled}
      placeholder="2026-12-04"
      letters={11}
      show={(day) => day}
      read={readDay}
      onCommit={(day) => onCommit(day === '' ? undefined : day)}
    />
  );
}

/** A typed day as `YYYY-MM-DD`. Orders that can be read in two ways are refused. */
export function readDay(text: string): { readonly value: string } | { readonly fault: string } {
  const trimmed = text.trim();
  if (trimmed === '') return { value: '' };
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(trimmed);
  const dotted = /^(\d{1,2})\.\s*(\d{1,2})\.\s*(\d{4})$/.exec(trimmed);
  const [year, month, day] =
    iso !== null ? [iso[1]!, iso[2]!, iso[3]!] : dotted !== null ? [dotted[3]!, dotted[2]!, dotted[1]!] : [];
  if (year === undefined) return { fault: `“${trimmed}” is not a day. Write it as 2026-12-04.` };
  const written = `${year}-${month!.padStart(2, '0')}-${day!.padStart(2, '0')}`;
  const parsed = new Date(`${written}T00:00:00Z`);
  if (Number.isNaN(parsed.getTime()) || parsed.toISOString().slice(0, 10) !== written) {
    return { fault: `There is no day ${written}.` };
  }
  return { value: written };
}
