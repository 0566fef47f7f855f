import type { Decision } from '@gapwright/job';
import { Choice, LengthEntry, NumberEntry } from '../../kit/index.js';
import { useSheet } from '../sheet-context.js';
import type { Decided } from './apply-decision.js';
import { LevelTicks } from './level-ticks.js';
import { OrderEntry } from './order-entry.js';
import { PlaceEntry } from './place-entry.js';

interface DecisionInputProps {
  readonly decision: Decision;
  readonly isReadOnly: boolean;
  readonly hideLabel?: boolean;
  /** The value with how it is said. */
  readonly onDecide: (value: Decided, says: string) => void;
}

/** The box a decision is taken in. */
export function DecisionInput({ decision, isReadOnly, hideLabel = false, onDecide }: DecisionInputProps) {
  const { names } = useSheet();
  const { label, input } = decision;
  const common = { label, hideLabel, isDisabled: isReadOnly };
  switch (input.kind) {
    case 'choice':
      return (
        <Choice
          {...common}
          value={input.value}
          options={input.options.map((o) => optionWords(o))}
          onChoose={(value) => onDecide(decision.id === 'stack' ? Number(value) : value, value)}
        />
      );
    case 'length':
      return (
        <LengthEntry
          {...common}
          value={input.value}
          min={input.min}
          max={input.max}
          letters={8}
          onCommit={(v) => v !== null && onDecide(v, `${v} mm`)}
        />
      );
    case 'count':
    case 'money':
      return (
        <NumberEntry
          {...common}
          {...(input.kind === 'money' ? { unit: names.currency, decimals: 2 } : { decimals: 0 })}
          value={input.value}
          min={input.min}
          max={input.max}
          letters={8}
          onCommit={(v) => v !== null && onDecide(v, input.kind === 'money' ? `${v} ${names.currency}` : String(v))}
        />
      );
    case 'levels':
      return (
        <LevelTicks
          label={label}
          hideLabel={hideLabel}
          value={input.value}
          options={input.options}
          isDisabled={isReadOnly}
          onChange={(levels) => onDecide(levels, levels.join(', '))}
        />
      );
    case 'place':
      return (
        <PlaceEntry
          label={label}
          hideLabel={hideLabel}
          xMm={input.xMm}
          yMm={input.yMm}
          isDisabled={isReadOnly}
          onCommit={(x, y) => onDecide({ x, y }, `(${x}, ${y})`)}
        />
      );
    case 'order':
      return (
        <OrderEntry
          label={label}
          hideLabel={hideLabel}
          value={input.value}
          isDisabled={isReadOnly}
          onChange={(order) => onDecide(order, order.join(', '))}
        />
      );
  }
}

/** Options say in `says` what they are and, after a full stop or colon, what they cost or why they cannot be. */
function optionWords({ value, says, isPossible }: { value: string; says: string; isPossible: boolean }) {
  const parted = /^([^:.]{1,60}): (.+)$/s.exec(says);
  return {
    value,
    label: parted?.[1] ?? says,
    ...(parted === null ? {} : { says: parted[2]! }),
    isDisabled: !isPossible,
  };
}
