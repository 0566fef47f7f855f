import { useEffect, useState } from 'react';
import { sectionId } from './section.js';

export interface ContentsEntry {
  readonly id: string;
  readonly title: string;
}

/** Brings a section into view and puts the focus on its title, so that Tab goes on from there. */
export function goToSection(id: string): void {
  const title = document.getElementById(`${sectionId(id)}-title`);
  const isStill = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  document.getElementById(sectionId(id))?.scrollIntoView({ behavior: isStill ? 'auto' : 'smooth', block: 'start' });
  title?.focus({ preventScroll: true });
}

/** The sections in their order; the one being read is marked. */
export function Contents({ entries }: { readonly entries: readonly ContentsEntry[] }) {
  const here = useSectionInView(entries);
  return (
    <nav className="sheet-contents no-print" aria-label="Contents of the sheet">
      <ol>
        {entries.map(({ id, title }) => (
          <li key={id}>
            <a
              href={`#${sectionId(id)}`}
              aria-current={here === id ? 'location' : undefined}
              onClick={(event) => {
                event.preventDefault();
                goToSection(id);
              }}
            >
              {title}
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** The topmost section in the upper part of the window. */
function useSectionInView(entries: readonly ContentsEntry[]): string | null {
  const [here, setHere] = useState<string | null>(entries[0]?.id ?? null);
  const key = entries.map((e) => e.id).join(' ');
  useEffect(() => {
    const inView = new Set<string>();
    const ids = key.split(' ');
    const observer = new IntersectionObserver(
      (changes) => {
        for (const { target, isIntersecting } of changes) {
          if (isIntersecting) inView.add(target.id);
          else inView.delete(target.id);
        }
        setHere(ids.find((id) => inView.has(sectionId(id))) ?? null);
      },
      { rootMargin: '-15% 0px -60% 0px' },
    );
    for (const id of ids) {
      const section = document.getElementById(sectionId(id));
      if (section !== null) observer.observe(section);
    }
    return () => observer.disconnect();
  }, [key]);
  return here;
}
