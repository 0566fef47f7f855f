import { CAUTION_LEAD, cautionById } from '@gapwright/process/cautions';
import { memo } from 'react';

/** What may hurt somebody in this operation. The titles are always in sight, the texts one key away. */
export const Cautions = memo(function Cautions({ ids }: { readonly ids: readonly string[] }) {
  const cautions = ids.flatMap((id) => cautionById(id) ?? []);
  if (cautions.length === 0) return null;
  return (
    <details className="sheet-cautions">
      <summary>
        <span className="sheet-cautions-word">Cautions</span> {cautions.map((c) => c.title).join(' · ')}
      </summary>
      <p className="sheet-soft">{CAUTION_LEAD}</p>
      <dl>
        {cautions.map((c) => (
          <div key={c.id}>
            <dt>{c.title}</dt>
            <dd>{c.text}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
});
