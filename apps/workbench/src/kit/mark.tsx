export type MarkKind = 'needs' | 'proven' | 'open' | 'info';

const SIGNS: Readonly<Record<MarkKind, string>> = { needs: '▲', proven: '✓', open: '○', info: '·' };

/** A status: always a word with its mark, never colour alone. */
export function Mark({ kind, children }: { readonly kind: MarkKind; readonly children: string }) {
  return (
    <span className={`kit-mark kit-mark-${kind}`}>
      <span aria-hidden="true">{SIGNS[kind]}</span> {children}
    </span>
  );
}
