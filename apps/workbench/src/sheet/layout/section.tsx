import type { ReactNode } from 'react';

export interface SectionProps {
  readonly id: string;
  readonly title: string;
  /** A few words beside the title: how it stands. */
  readonly aside?: ReactNode;
  readonly children: ReactNode;
}

/** Id of the element a contents entry leads to. */
export const sectionId = (id: string): string => `sheet-${id}`;

/** One part of the sheet under its own rule. */
export function Section({ id, title, aside, children }: SectionProps) {
  return (
    <section className="sheet-section" id={sectionId(id)} aria-labelledby={`${sectionId(id)}-title`}>
      <header className="sheet-section-head">
        <h2 id={`${sectionId(id)}-title`} tabIndex={-1}>
          {title}
        </h2>
        {aside === undefined ? null : <div className="sheet-section-aside">{aside}</div>}
      </header>
      {children}
    </section>
  );
}
