import { useEffect, useState } from 'react';
import { FieldError, Input, Label, Text, TextArea, TextField } from 'react-aria-components';

export interface EntryProps<T> {
  readonly label: string;
  /** Hide the label on screen when a table head already says it; readers still hear it. */
  readonly hideLabel?: boolean;
  readonly value: T;
  /** Called once with a good value, on Enter or when the field is left. */
  readonly onCommit: (value: T) => void;
  readonly hint?: string;
  readonly unit?: string;
  readonly placeholder?: string;
  readonly isDisabled?: boolean;
  readonly autoFocus?: boolean;
  /** Width of the box in letters. */
  readonly letters?: number;
}

interface TypedEntryProps<T> extends EntryProps<T> {
  readonly show: (value: T) => string;
  readonly read: (text: string) => { readonly value: T } | { readonly fault: string };
  readonly lines?: number;
  readonly numeric?: boolean;
}

/** A box whose text becomes a value when it is left or Enter is pressed. A bad text stays, with the fault beside it; Escape brings the old value back. */
export function TypedEntry<T>(props: TypedEntryProps<T>) {
  const { label, value, onCommit, show, read, hint, unit, lines } = props;
  const shown = show(value);
  const [text, setText] = useState(shown);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    setText(shown);
    setFault(null);
  }, [shown]);

  const commit = (): void => {
    if (text === shown) {
      setFault(null);
      return;
    }
    const result = read(text);
    if ('fault' in result) {
      setFault(result.fault);
      return;
    }
    setFault(null);
    const next = show(result.value);
    setText(next);
    if (next !== shown) onCommit(result.value);
  };
  const onKeyDown = (event: { key: string; preventDefault(): void }): void => {
    if (event.key === 'Enter' && lines === undefined) commit();
    if (event.key === 'Escape' && text !== shown) {
      setText(shown);
      setFault(null);
    }
  };
  const box = { onBlur: commit, onKeyDown, placeholder: props.placeholder, size: props.letters };
  return (
    <TextField
      className="kit-entry"
      value={text}
      onChange={setText}
      isInvalid={fault !== null}
      isDisabled={props.isDisabled ?? false}
      autoFocus={props.autoFocus ?? false}
      validationBehavior="aria"
    >
      <Label className={props.hideLabel ? 'visually-hidden' : 'kit-label'}>{label}</Label>
      <span className="kit-entry-row">
        {lines === undefined ? (
          <Input
            {...clean(box)}
            className="kit-input"
            inputMode={props.numeric ? 'decimal' : 'text'}
            autoComplete="off"
          />
        ) : (
          <TextArea
            onBlur={commit}
            onKeyDown={onKeyDown}
            {...clean({ placeholder: props.placeholder })}
            rows={lines}
            className="kit-input"
          />
        )}
        {unit === undefined ? null : <span className="kit-unit">{unit}</span>}
      </span>
      {hint === undefined ? null : (
        <Text slot="description" className="kit-hint">
          {hint}
        </Text>
      )}
      <FieldError className="kit-fault">{fault}</FieldError>
    </TextField>
  );
}

function clean<T extends object>(props: T): { [K in keyof T]: NonNullable<T[K]> } {
  return Object.fromEntries(Object.entries(props).filter(([, v]) => v !== undefined)) as {
    [K in keyof T]: NonNullable<T[K]>;
  };
}
