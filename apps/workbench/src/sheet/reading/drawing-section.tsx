import type { SheetDrawing } from '@gapwright/job';
import { memo } from 'react';
import { Button, Mark } from '../../kit/index.js';
import { useDisplay } from '../../units/index.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { Section } from '../layout/section.js';
import { useSheet } from '../sheet-context.js';

const ROLES = { outline: 'outline', opening: 'opening', open: 'open cut' } as const;

/** What was read from the drawing, what was mended to read it, and what was left out. */
export const DrawingSection = memo(function DrawingSection({ drawing }: { readonly drawing: SheetDrawing | null }) {
  const { length, unit } = useDisplay();
  const { show } = useSheet();
  if (drawing === null) return null;
  const { boxMm } = drawing;
  const size = boxMm === null ? null : `${length(boxMm.maxX - boxMm.minX)} × ${length(boxMm.maxY - boxMm.minY)}`;
  const layers = drawing.layers.filter((l) => l.isRead);
  return (
    <Section
      id="drawing"
      title="Drawing"
      aside={drawing.unitsAssumed ? <Mark kind="needs">Units assumed, not stated</Mark> : null}
    >
      <p>
        <strong>{drawing.fileName}</strong>, read in {drawing.units}
        {size === null ? '' : `, ${size}`}.{' '}
        {drawing.largestFitDeviationMm > 0
          ? `Curves were fitted with lines and arcs to within ${length(drawing.largestFitDeviationMm, unit === 'mm' ? 6 : 7)}.`
          : 'All curves are exact lines and arcs.'}{' '}
        {layers.length === 0
          ? ''
          : `Layers read: ${layers.map((l) => l.name + (l.isCut ? '' : ' (not cut)')).join(', ')}.`}
      </p>
      {drawing.contours.length === 0 ? null : (
        <div className="sheet-table-frame">
          <table className="sheet-table">
            <caption className="visually-hidden">Contours on the drawing</caption>
            <thead>
              <tr>
                <th scope="col">Feature</th>
                <th scope="col">Kind</th>
                <th scope="col">Layer</th>
                <th scope="col" className="sheet-number">
                  Length
                </th>
                <th scope="col" className="sheet-number">
                  Area, mm²
                </th>
                <th scope="col" className="sheet-number">
                  Least inside radius
                </th>
                <th scope="col" className="sheet-number">
                  Sharp inside corners
                </th>
              </tr>
            </thead>
            <FoldedRows
              rows={drawing.contours}
              columns={7}
              row={(c, i) => (
                <tr key={c.feature ?? `contour-${i}`}>
                  <th scope="row">
                    {c.feature === null ? (
                      <span className="sheet-soft">not cut</span>
                    ) : (
                      <button type="button" className="kit-link" onClick={() => show({ feature: c.feature! })}>
                        {c.feature}
                      </button>
                    )}
                  </th>
                  <td>{ROLES[c.role]}</td>
                  <td>{c.layer}</td>
                  <td className="sheet-number">{length(c.lengthMm)}</td>
                  <td className="sheet-number">{c.role === 'open' ? '–' : c.areaMm2.toFixed(1)}</td>
                  <td className="sheet-number">{c.minInsideRadiusMm === null ? '–' : length(c.minInsideRadiusMm)}</td>
                  <td className="sheet-number">{c.sharpInsideCorners === 0 ? 'none' : c.sharpInsideCorners}</td>
                </tr>
              )}
            />
          </table>
        </div>
      )}
      {drawing.repairs.length === 0 ? null : (
        <>
          <h3>Mended to make contours</h3>
          <ul className="sheet-lines">
            {drawing.repairs.map((r) => (
              <li key={`${r.says} ${r.xMm} ${r.yMm}`}>
                {r.says}{' '}
                <Button look="plain" onPress={() => show({ xMm: r.xMm, yMm: r.yMm })}>
                  Show the place
                </Button>
              </li>
            ))}
          </ul>
        </>
      )}
      {drawing.skipped.length === 0 ? null : (
        <>
          <h3>Left out</h3>
          <ul className="sheet-lines">
            {drawing.skipped.map((s) => (
              <li key={s.says}>
                {s.says}
                {s.count > 1 ? ` (${s.count})` : ''}
              </li>
            ))}
          </ul>
        </>
      )}
    </Section>
  );
});
