import type { SheetDrawing } from '@gapwright/job';

interface LayerChoiceProps {
  readonly layers: SheetDrawing['layers'];
  /** Layers to be cut; undefined: all of them. */
  readonly value: readonly string[] | undefined;
  readonly hideLabel?: boolean;
  readonly isDisabled: boolean;
  readonly onChange: (layers: readonly string[] | undefined) => void;
}

/** Which layers are cut; contours on the others only tell inside from outside. */
export function LayerChoice({ layers, value, hideLabel = false, isDisabled, onChange }: LayerChoiceProps) {
  const withContours = layers.filter((l) => l.isRead && l.contours > 0);
  const isCut = (name: string): boolean => value === undefined || value.includes(name);
  const toggle = (name: string): void => {
    const next = withContours.map((l) => l.name).filter((n) => (n === name ? !isCut(n) : isCut(n)));
    onChange(next.length === withContours.length ? undefined : next);
  };
  return (
    <fieldset className="sheet-layers">
      <legend className={hideLabel ? 'visually-hidden' : 'kit-label'}>Layers cut</legend>
      {withContours.map((layer) => (
        <label key={layer.name} className="sheet-tick">
          <input
            type="checkbox"
            checked={isCut(layer.name)}
            disabled={isDisabled || (isCut(layer.name) && withContours.filter((l) => isCut(l.name)).length === 1)}
            onChange={() => toggle(layer.name)}
          />
          {layer.name} <span className="sheet-soft">({layer.contours})</span>
        </label>
      ))}
    </fieldset>
  );
}
