import { createHash } from 'node:crypto';
import type { BookVersion, BurnContent, BurnRecord, Revision } from '@gapwright/records';

/** A UUID made from a number, so that a failing test names the same ids again. */
export function idOf(number: number): string {
  return `00000000-0000-4000-8000-${number.toString(16).padStart(12, '0')}`;
}

export const JOB = idOf(0xabc);

export function revisionOf(id: string, parents: readonly string[], over: Partial<Revision> = {}): Revision {
  return {
    id,
    jobId: JOB,
    parents: [...parents],
    madeAt: '2026-11-25T10:00:00.000Z',
    madeBy: 'Desk by the window',
    says: 'Height set to 40 mm',
    stage: 'to price',
    content: { material: 'D2', heightMm: 40 },
    drawing: null,
    bookSha256: null,
    ...over,
  };
}

export function burnOf(id: string, over: Partial<BurnRecord> = {}, content: Partial<BurnContent> = {}): BurnRecord {
  return {
    id,
    madeAt: '2026-11-25T10:00:00.000Z',
    madeBy: 'Tablet at W1',
    replaces: null,
    content: {
      day: '2026-11-24',
      material: 'D2',
      machine: 'W1',
      wire: 'B25',
      heightMm: 40,
      level: 1,
      predictedMin: 61.5,
      actualMin: 64,
      jobId: null,
      operation: null,
      note: '',
      ...content,
    },
    ...over,
  };
}

export function hashOf(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

export function bookOf(text: string, parent: string | null, over: Partial<BookVersion> = {}): BookVersion {
  return {
    kind: 'shop-book',
    sha256: hashOf(text),
    parent,
    madeAt: '2026-11-25T10:00:00.000Z',
    madeBy: 'Desk by the window',
    says: 'Rate of W1 raised',
    ...over,
  };
}
