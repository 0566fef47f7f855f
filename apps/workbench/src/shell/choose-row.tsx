import { useId } from 'react';

/** One of two or three short words, all in sight. */
export function ChooseRow<T extends string>({
  label,
  value,
  options,
  onChoose,
}: {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly label: string; readonly says?: string }[];
  readonly onChoose: (value: T) => void;
}) {
  const name = useId();
  return (
    <fieldset className="shell-choose">
      <legend>{label}</legend>
      {options.map((o) => (
        <label key={o.value} title={o.says}>
          <input
            type="radio"
            name={name}
            value={o.value}
            checked={o.value === value}
            onChange={() => onChoose(o.value)}
          />
          <span>{o.label}</span>
        </label>
      ))}
    </fieldset>
  );
}
