import { Button, Label, ListBox, ListBoxItem, Popover, Select, SelectValue, Text } from 'react-aria-components';

export interface ChoiceOption {
  readonly value: string;
  readonly label: string;
  /** A second line: what it costs, why not. */
  readonly says?: string;
  readonly isDisabled?: boolean;
}

export interface ChoiceProps {
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly value: string | null;
  readonly options: readonly ChoiceOption[];
  readonly onChoose: (value: string) => void;
  readonly placeholder?: string;
  readonly isDisabled?: boolean;
}

/** One of a few. */
export function Choice({ label, hideLabel, value, options, onChoose, placeholder, isDisabled }: ChoiceProps) {
  return (
    <Select
      className="kit-entry"
      value={value}
      onChange={(key) => key !== null && onChoose(String(key))}
      placeholder={placeholder ?? 'Choose'}
      isDisabled={isDisabled ?? false}
    >
      <Label className={hideLabel ? 'visually-hidden' : 'kit-label'}>{label}</Label>
      <Button className="kit-input kit-choice">
        <SelectValue className="kit-choice-value">
          {({ selectedText, defaultChildren }) => selectedText || defaultChildren}
        </SelectValue>
        <span aria-hidden="true" className="kit-choice-sign">
          ▾
        </span>
      </Button>
      <Popover className="kit-popover">
        <ListBox className="kit-list">
          {options.map((o) => (
            <ListBoxItem
              key={o.value}
              id={o.value}
              textValue={o.label}
              isDisabled={o.isDisabled ?? false}
              className="kit-list-item"
            >
              <Text slot="label">{o.label}</Text>
              {o.says === undefined ? null : (
                <Text slot="description" className="kit-hint">
                  {o.says}
                </Text>
              )}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </Select>
  );
}
