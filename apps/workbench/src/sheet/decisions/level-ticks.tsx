interface LevelTicksProps {
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly value: readonly number[];
  readonly options: readonly { readonly level: number; readonly name: string }[];
  readonly isDisabled: boolean;
  readonly onChange: (levels: readonly number[]) => void;
}

/** Which levels are run, one pass each, from rough to fine. At least one stays. */
export function LevelTicks({ label, hideLabel = false, value, options, isDisabled, onChange }: LevelTicksProps) {
  const toggle = (level: number): void =>
    onChange(options.map((o) => o.level).filter((l) => (l === level ? !value.includes(l) : value.includes(l))));
  return (
    <fieldset className="sheet-layers">
      <legend className={hideLabel ? 'visually-hidden' : 'kit-label'}>{label}</legend>
      {options.map(({ level, name }) => {
        const isOn = value.includes(level);
        return (
          <label key={level} className="sheet-tick">
            <input
              type="checkbox"
              checked={isOn}
              disabled={isDisabled || (isOn && value.length === 1)}
              onChange={() => toggle(level)}
            />
            {name}
          </label>
        );
      })}
    </fieldset>
  );
}
