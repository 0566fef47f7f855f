import type { SheetProof } from '@gapwright/job';
import { useState } from 'react';
import { Button } from '../../kit/index.js';
import { useDisplay } from '../../units/index.js';
import { useSheet } from '../sheet-context.js';

/** More rows than this are folded; the worst come first, so nothing that matters is folded away. */
const SHOWN = 20;

type Feature = SheetProof['features'][number];

/** Deviation of the finished wall, feature by feature, the worst first. */
export function FeatureTable({
  proof,
  toleranceMm,
}: {
  readonly proof: SheetProof;
  readonly toleranceMm: number | null;
}) {
  const { show } = useSheet();
  const { unit } = useDisplay();
  const [isAll, setAll] = useState(false);
  const sorted = [...proof.features].sort((a, b) => worst(b) - worst(a));
  const rows = isAll ? sorted : sorted.slice(0, SHOWN);
  const small = (mm: number): string => (unit === 'mm' ? (mm * 1000).toFixed(2) : ((mm / 25.4) * 1e6).toFixed(1));
  const sign = unit === 'mm' ? 'µm' : 'µin';
  return (
    <>
      <div className="sheet-table-frame">
        <table className="sheet-table" aria-label={`Deviation by feature, ${proof.fileName}`}>
          <thead>
            <tr>
              <th scope="col">Feature</th>
              <th scope="col" className="sheet-number">
                Left on, {sign}
              </th>
              <th scope="col" className="sheet-number">
                Cut into, {sign}
              </th>
              <th scope="col">Against the tolerance</th>
              <th scope="col">Stock taken by the skims, {sign}</th>
              <th scope="col" className="no-print">
                <span className="visually-hidden">Place</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((f) => {
              const at = f.undercutMm > f.restMm ? f.undercutAt : f.restAt;
              return (
                <tr key={f.id}>
                  <th scope="row">{f.id}</th>
                  <td className="sheet-number">{f.restMm >= 1 ? '1 mm or more' : small(f.restMm)}</td>
                  <td className="sheet-number">{small(f.undercutMm)}</td>
                  <td>
                    <ToleranceBar feature={f} toleranceMm={toleranceMm} />
                  </td>
                  <td>{skimWords(f, small)}</td>
                  <td className="no-print">
                    <Button
                      look="plain"
                      aria-label={`Show ${f.id} on the drawing`}
                      onPress={() => show({ feature: f.id, ...(at === null ? {} : { xMm: at.x, yMm: at.y }) })}
                    >
                      Show
                    </Button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      {sorted.length > rows.length ? (
        <Button look="plain" onPress={() => setAll(true)}>{`Show all ${sorted.length} features`}</Button>
      ) : null}
    </>
  );
}

function worst(f: Feature): number {
  return Math.max(f.restMm, f.undercutMm);
}

/** The tolerance as a line with its middle; rest to the right, undercut to the left. */
function ToleranceBar({ feature, toleranceMm }: { readonly feature: Feature; readonly toleranceMm: number | null }) {
  if (toleranceMm === null) return null;
  const reach = (mm: number): number => Math.min(1.2, mm / toleranceMm) * 45;
  const isIn = worst(feature) <= toleranceMm;
  const share = Math.round((worst(feature) / toleranceMm) * 100);
  return (
    <span className="sheet-bar-cell">
      <svg className="sheet-tolerance" viewBox="-60 0 120 12" aria-hidden="true">
        <line className="sheet-tolerance-axis" x1={-45} x2={45} y1={6} y2={6} />
        <line className="sheet-tolerance-limit" x1={-45} x2={-45} y1={1} y2={11} />
        <line className="sheet-tolerance-limit" x1={45} x2={45} y1={1} y2={11} />
        <rect
          className={isIn ? 'sheet-tolerance-in' : 'sheet-tolerance-out'}
          x={-reach(feature.undercutMm) - 1}
          width={reach(feature.undercutMm) + reach(feature.restMm) + 2}
          y={3}
          height={6}
        />
      </svg>
      <span>{isIn ? `${share} % used` : `${share} %: out`}</span>
    </span>
  );
}

/** `22.1 to 24.0, then 6.0` with the share of the wall reached where a pass misses some. */
function skimWords(f: Feature, small: (mm: number) => string): string {
  const skims = f.passes.filter((p) => p.stockMinMm !== null && p.stockMaxMm !== null);
  if (skims.length === 0) return 'no skim';
  return skims
    .map((p) => {
      const from = small(p.stockMinMm!);
      const to = small(p.stockMaxMm!);
      const reached = p.covered < 0.9995 ? ` (${Math.round(p.covered * 1000) / 10} % of the wall)` : '';
      return `${from === to ? from : `${from} to ${to}`}${reached}`;
    })
    .join(', then ');
}
