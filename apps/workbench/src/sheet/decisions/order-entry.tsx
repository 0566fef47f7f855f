interface OrderEntryProps {
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly value: readonly string[];
  readonly isDisabled: boolean;
  readonly onChange: (order: readonly string[]) => void;
}

/** The list with one entry moved by one place. */
function moved(list: readonly string[], index: number, by: -1 | 1): string[] {
  const next = [...list];
  const to = index + by;
  if (to < 0 || to >= next.length) return next;
  [next[index], next[to]] = [next[to]!, next[index]!];
  return next;
}

/** The order of cutting; each feature can be moved earlier or later. */
export function OrderEntry({ label, hideLabel = false, value, isDisabled, onChange }: OrderEntryProps) {
  return (
    <fieldset className="sheet-order">
      <legend className={hideLabel ? 'visually-hidden' : 'kit-label'}>{label}</legend>
      <ol>
        {value.map((feature, index) => (
          <li key={feature}>
            <span>{feature}</span>
            {isDisabled ? null : (
              <span className="no-print">
                <button
                  type="button"
                  className="kit-link"
                  disabled={index === 0}
                  aria-label={`Cut ${feature} earlier`}
                  onClick={() => onChange(moved(value, index, -1))}
                >
                  earlier
                </button>
                <button
                  type="button"
                  className="kit-link"
                  disabled={index === value.length - 1}
                  aria-label={`Cut ${feature} later`}
                  onClick={() => onChange(moved(value, index, 1))}
                >
                  later
                </button>
              </span>
            )}
          </li>
        ))}
      </ol>
    </fieldset>
  );
}
