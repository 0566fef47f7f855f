import type { DraftJob, SheetDrawing } from '@gapwright/job';
import type { ReactNode } from 'react';
import { Choice, LengthEntry, NumberEntry } from '../../kit/index.js';
import { useSheet } from '../sheet-context.js';
import type { DraftField } from './draft-fields.js';
import { fieldLabel } from './draft-fields.js';
import { LayerChoice } from './layer-choice.js';

/** Largest sizes a box takes; far beyond what a wire machine holds, so that slips of the unit are caught. */
const HIGHEST_MM = 1000;
const COARSEST_RA_UM = 50;
const WIDEST_TOLERANCE_MM = 5;
const MOST_PIECES = 100_000;

/** Requirements in the order they are read off a drawing. */
export const REQUIREMENTS = [
  'material',
  'heightMm',
  'raUm',
  'toleranceMm',
  'recastMaxUm',
  'quantity',
  'units',
  'cutLayers',
] as const satisfies readonly DraftField[];

export type Requirement = (typeof REQUIREMENTS)[number];

export interface RequirementEntryProps {
  readonly field: Requirement;
  readonly draft: DraftJob;
  readonly drawing: SheetDrawing | null;
  readonly isReadOnly: boolean;
  readonly hideLabel?: boolean;
  readonly onSet: (field: DraftField, value: unknown) => void;
}

/** The box of one requirement; null when there is nothing to choose. */
export function RequirementEntry(props: RequirementEntryProps): ReactNode {
  const { field, draft, drawing, isReadOnly, hideLabel = false, onSet } = props;
  const common = { label: fieldLabel(field), hideLabel, isDisabled: isReadOnly };
  switch (field) {
    case 'material':
      return <MaterialChoice {...common} value={draft.material ?? null} onChoose={(v) => onSet('material', v)} />;
    case 'heightMm':
      return (
        <LengthEntry
          {...common}
          value={draft.heightMm ?? null}
          min={0.01}
          max={HIGHEST_MM}
          letters={8}
          onCommit={(v) => onSet(field, v)}
        />
      );
    case 'raUm':
      return (
        <NumberEntry
          {...common}
          unit="µm"
          value={draft.raUm ?? null}
          min={0.01}
          max={COARSEST_RA_UM}
          letters={6}
          onCommit={(v) => onSet(field, v)}
        />
      );
    case 'toleranceMm':
      return (
        <LengthEntry
          {...common}
          label={`${fieldLabel(field)}, ±`}
          value={draft.toleranceMm ?? null}
          min={0.0001}
          max={WIDEST_TOLERANCE_MM}
          letters={8}
          onCommit={(v) => onSet(field, v)}
        />
      );
    case 'recastMaxUm':
      return (
        <NumberEntry
          {...common}
          unit="µm"
          mayBeEmpty
          placeholder="not stated"
          value={draft.recastMaxUm ?? null}
          min={0.1}
          letters={9}
          onCommit={(v) => onSet(field, v)}
        />
      );
    case 'quantity':
      return (
        <NumberEntry
          {...common}
          decimals={0}
          value={draft.quantity ?? null}
          min={1}
          max={MOST_PIECES}
          letters={7}
          onCommit={(v) => onSet(field, v)}
        />
      );
    case 'units':
      return (
        <Choice
          {...common}
          value={draft.units ?? AS_DRAWN}
          options={UNIT_OPTIONS}
          onChoose={(v) => onSet(field, v === AS_DRAWN ? undefined : v)}
        />
      );
    case 'cutLayers':
      return drawing === null || drawing.layers.filter((l) => l.contours > 0).length < 2 ? null : (
        <LayerChoice
          layers={drawing.layers}
          value={draft.cutLayers}
          hideLabel={hideLabel}
          isDisabled={isReadOnly}
          onChange={(v) => onSet(field, v)}
        />
      );
  }
}

const AS_DRAWN = 'as drawn';

const UNIT_OPTIONS = [
  { value: AS_DRAWN, label: 'as the file says' },
  { value: 'mm', label: 'mm' },
  { value: 'cm', label: 'cm' },
  { value: 'm', label: 'm' },
  { value: 'um', label: 'µm' },
  { value: 'in', label: 'in' },
  { value: 'ft', label: 'ft' },
];

export function MaterialChoice({
  value,
  isDisabled = false,
  hideLabel = false,
  onChoose,
}: {
  readonly value: string | null;
  readonly isDisabled?: boolean;
  readonly hideLabel?: boolean;
  readonly onChoose: (material: string) => void;
}) {
  const { names } = useSheet();
  const known = names.materials.map((m) => ({ value: m.id, label: m.name }));
  const options =
    value === null || known.some((o) => o.value === value)
      ? known
      : [{ value, label: `${value} (as written; not an id of the shop book)` }, ...known];
  return (
    <Choice
      label="Material"
      hideLabel={hideLabel}
      value={value}
      isDisabled={isDisabled}
      options={options}
      onChoose={onChoose}
    />
  );
}
