import type { PlanDocument } from '@gapwright/job';
import type { PaperRequest } from '@gapwright/records';

/** One paper that can be made for the job. */
export interface Paper {
  readonly id: string;
  readonly kind: PaperRequest['kind'];
  readonly operation: number | null;
  readonly title: string;
  readonly isFor: string;
  readonly fileName: string;
}

/** The papers of a planned job; a letter only when there is something to ask for. */
export function papersOf(operations: PlanDocument['operations'], hasAsks: boolean): Paper[] {
  const papers: Paper[] = [
    {
      id: 'quotation',
      kind: 'quotation',
      operation: null,
      title: 'Quotation',
      isFor: 'the customer',
      fileName: 'quotation.pdf',
    },
  ];
  if (hasAsks) {
    papers.push({
      id: 'letter',
      kind: 'letter',
      operation: null,
      title: 'Letter: what would lower the price',
      isFor: 'the customer',
      fileName: 'letter.pdf',
    });
  }
  papers.push({
    id: 'route-card',
    kind: 'route-card',
    operation: null,
    title: 'Route card',
    isFor: 'the floor',
    fileName: 'route-card.pdf',
  });
  for (const operation of operations) {
    if (operation.process !== 'wire') continue;
    papers.push({
      id: `set-up-sheet-${operation.number}`,
      kind: 'set-up-sheet',
      operation: operation.number,
      title: `Set-up sheet, operation ${operation.number}`,
      isFor: `machine ${operation.machineId}`,
      fileName: `op${operation.number}-set-up-sheet.pdf`,
    });
  }
  return papers;
}
