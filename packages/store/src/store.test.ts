import type { Result } from '@gapwright/base';
import type { OfferRecord } from '@gapwright/records';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openStore } from './open-store.js';
import type { Store } from './store.js';
import { bookOf, burnOf, hashOf, idOf, JOB, revisionOf } from './testing/records.js';

let store: Store;
beforeEach(async () => {
  store = must(await openStore({ file: ':memory:' }));
});
afterEach(() => store.close());

function must<T>({ value, problems }: Result<T>): T {
  if (value === null) throw new Error(problems[0]!.message);
  return value;
}

function codeOf({ value, problems }: Result<unknown>): string {
  expect(value).toBeNull();
  return problems[0]!.code;
}

describe('revisions', () => {
  test('one made on the head becomes the head', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    const { saved, summary } = must(await store.keepRevision(revisionOf(idOf(2), [idOf(1)])));
    expect(saved.standing).toBe('head');
    expect(summary).toMatchObject({ revisionCount: 2, asides: [], head: { id: idOf(2) } });
    expect((await store.revision(idOf(1)))!.standing).toBe('past');
  });

  test('one made on an older state waits aside and is settled by one with both as parents', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    await store.keepRevision(revisionOf(idOf(2), [idOf(1)]));
    const late = must(await store.keepRevision(revisionOf(idOf(3), [idOf(1)], { madeBy: 'Tablet' })));
    expect(late.saved.standing).toBe('aside');
    expect(late.summary.asides.map((r) => r.id)).toEqual([idOf(3)]);
    const settled = must(await store.keepRevision(revisionOf(idOf(4), [idOf(2), idOf(3)])));
    expect(settled.saved.standing).toBe('head');
    expect(settled.summary.asides).toEqual([]);
    const { revisions } = (await store.job(JOB))!;
    expect(revisions.map((r) => [r.id, r.standing])).toEqual([
      [idOf(4), 'head'],
      [idOf(3), 'past'],
      [idOf(2), 'past'],
      [idOf(1), 'past'],
    ]);
  });

  test('work that goes on aside keeps one aside', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    await store.keepRevision(revisionOf(idOf(2), [idOf(1)]));
    await store.keepRevision(revisionOf(idOf(3), [idOf(1)]));
    const { summary } = must(await store.keepRevision(revisionOf(idOf(4), [idOf(3)])));
    expect(summary.head.id).toBe(idOf(2));
    expect(summary.asides.map((r) => r.id)).toEqual([idOf(4)]);
  });

  test('sent twice, one is kept once, whatever the order of its keys', async () => {
    const revision = revisionOf(idOf(1), [], { content: { a: 1, b: { c: 2, d: [] } } });
    const first = must(await store.keepRevision(revision));
    await store.keepRevision(revisionOf(idOf(2), [idOf(1)]));
    const again = must(await store.keepRevision({ ...revision, content: { b: { d: [], c: 2 }, a: 1 } }));
    expect(again.saved).toEqual({ ...first.saved, standing: 'past' });
    expect(await store.sequence()).toBe(2);
  });

  test('the same id with other content is refused', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    const other = await store.keepRevision(revisionOf(idOf(1), [], { says: 'Height set to 50 mm' }));
    expect(codeOf(other)).toBe('STORE-ID-TAKEN');
    expect((await store.revision(idOf(1)))!.says).toBe('Height set to 40 mm');
  });

  test('unknown parents, parents of other jobs and parents named twice are refused and leave nothing', async () => {
    await store.keepRevision(revisionOf(idOf(1), [], { jobId: idOf(9) }));
    expect(codeOf(await store.keepRevision(revisionOf(idOf(2), [idOf(7)])))).toBe('STORE-PARENT-UNKNOWN');
    expect(codeOf(await store.keepRevision(revisionOf(idOf(2), [idOf(1)])))).toBe('STORE-PARENT-ELSEWHERE');
    const twice = revisionOf(idOf(2), [idOf(1), idOf(1)], { jobId: idOf(9) });
    expect(codeOf(await store.keepRevision(twice))).toBe('STORE-PARENT-ELSEWHERE');
    expect(await store.sequence()).toBe(1);
    expect(await store.job(JOB)).toBeNull();
  });

  test('a drawing must have been sent before, with its true length', async () => {
    const bytes = new TextEncoder().encode('0\nEOF\n');
    const drawing = { sha256: hashOf('0\nEOF\n'), fileName: 'plate.dxf', byteLength: 6 };
    const revision = revisionOf(idOf(1), [], { drawing });
    expect(codeOf(await store.keepRevision(revision))).toBe('STORE-FILE-UNKNOWN');
    expect(await store.keepFile(bytes)).toBe(drawing.sha256);
    const wrong = revisionOf(idOf(1), [], { drawing: { ...drawing, byteLength: 7 } });
    expect(codeOf(await store.keepRevision(wrong))).toBe('STORE-FILE-DIFFERS');
    expect(must(await store.keepRevision(revision)).saved.drawing).toEqual(drawing);
  });

  test.each(['\0', '\ud800', 'a\udc00b'])('text that would not come back exactly is refused: %j', async (says) => {
    expect(codeOf(await store.keepRevision(revisionOf(idOf(1), [], { says })))).toBe('STORE-BAD-TEXT');
  });

  test('numbers that JSON cannot hold are refused', async () => {
    const bad = revisionOf(idOf(1), [], { content: { heightMm: Number.NaN } });
    expect(codeOf(await store.keepRevision(bad))).toBe('STORE-BAD-TEXT');
  });

  test('content comes back exactly', async () => {
    const content = { notes: 'Ø0.25 ±0.005 \0 \ud83d\ude00 \ud800', list: [1e-7, -1.5, null, true], deep: { '': {} } };
    await store.keepRevision(revisionOf(idOf(1), [], { content }));
    expect((await store.revision(idOf(1)))!.content).toEqual(content);
  });
});

describe('files', () => {
  test('are kept once by their content', async () => {
    const bytes = new Uint8Array([0, 255, 128, 10]);
    const sha256 = await store.keepFile(bytes);
    expect(await store.keepFile(bytes)).toBe(sha256);
    expect(new Uint8Array((await store.file(sha256))!)).toEqual(bytes);
    expect(await store.fileLength(sha256)).toBe(4);
    expect(await store.file('0'.repeat(64))).toBeNull();
  });

  test('a view into a larger buffer is kept as the view', async () => {
    const view = new Uint8Array([1, 2, 3, 4, 5]).subarray(1, 3);
    expect(new Uint8Array((await store.file(await store.keepFile(view)))!)).toEqual(new Uint8Array([2, 3]));
  });
});

describe('books', () => {
  test('a version made from the one in use comes into use; one made from an older one does not', async () => {
    const first = must(await store.keepBook(bookOf('{"v":1}', null), '{"v":1}'));
    expect(first.isCurrent).toBe(true);
    await store.keepBook(bookOf('{"v":2}', first.sha256), '{"v":2}');
    const late = must(await store.keepBook(bookOf('{"v":3}', first.sha256), '{"v":3}'));
    expect(late.isCurrent).toBe(false);
    const versions = await store.books('shop-book');
    expect(versions.map((v) => v.isCurrent)).toEqual([false, true, false]);
    expect(await store.bookText('shop-book', late.sha256)).toBe('{"v":3}');
    expect(await store.bookText('post', late.sha256)).toBeNull();
  });

  test('an earlier text may come into use again', async () => {
    const one = must(await store.keepBook(bookOf('{"v":1}', null), '{"v":1}'));
    const two = must(await store.keepBook(bookOf('{"v":2}', one.sha256), '{"v":2}'));
    const back = must(await store.keepBook(bookOf('{"v":1}', two.sha256, { says: 'Put back' }), '{"v":1}'));
    expect(back).toMatchObject({ sha256: one.sha256, isCurrent: true, sequence: 3 });
    expect((await store.books('shop-book')).filter((v) => v.isCurrent)).toHaveLength(1);
  });

  test('sent twice, or come to on two devices, a text is kept once', async () => {
    const version = bookOf('{"v":1}', null);
    await store.keepBook(version, '{"v":1}');
    await store.keepBook(version, '{"v":1}');
    await store.keepBook({ ...version, madeBy: 'Tablet' }, '{"v":1}');
    expect(await store.books('shop-book')).toHaveLength(1);
  });

  test('a wrong hash and an unknown parent are refused', async () => {
    expect(codeOf(await store.keepBook(bookOf('{"v":1}', null), '{"v":2}'))).toBe('STORE-HASH-WRONG');
    const orphan = bookOf('{"v":1}', '0'.repeat(64));
    expect(codeOf(await store.keepBook(orphan, '{"v":1}'))).toBe('STORE-PARENT-UNKNOWN');
    expect(await store.books('shop-book')).toEqual([]);
    expect(await store.file(hashOf('{"v":1}'))).toBeNull();
  });

  test('a byte order mark stays part of the text', async () => {
    const text = '\ufeff{"v":1}';
    await store.keepBook(bookOf(text, null), text);
    expect(await store.bookText('shop-book', hashOf(text))).toBe(text);
  });
});

describe('burns', () => {
  test('a correction puts the entry it replaces out of use, a strike too', async () => {
    await store.keepBurn(burnOf(idOf(1)));
    await store.keepBurn(burnOf(idOf(2), { replaces: idOf(1) }, { actualMin: 66 }));
    await store.keepBurn(burnOf(idOf(3)));
    await store.keepBurn({ ...burnOf(idOf(4), { replaces: idOf(3) }), content: null });
    const { burns } = await store.changes(0);
    expect(burns.map((b) => [b.id, b.isInUse, b.content?.actualMin])).toEqual([
      [idOf(1), false, 64],
      [idOf(2), true, 66],
      [idOf(3), false, 64],
      [idOf(4), true, undefined],
    ]);
  });

  test('two corrections of one entry never both count', async () => {
    await store.keepBurn(burnOf(idOf(1)));
    await store.keepBurn(burnOf(idOf(2), { replaces: idOf(1) }, { actualMin: 66 }));
    const after = await store.sequence();
    await store.keepBurn(burnOf(idOf(3), { replaces: idOf(1), madeBy: 'Desk' }, { actualMin: 67 }));
    // The one that went out of use is told again.
    const { burns } = await store.changes(after);
    expect(burns.filter((b) => b.isInUse).map((b) => b.id)).toEqual([idOf(3)]);
    expect(burns.map((b) => b.id)).toContain(idOf(2));
  });

  test('kept once, refused with other content, without its parent, or when it strikes nothing', async () => {
    await store.keepBurn(burnOf(idOf(1)));
    expect(must(await store.keepBurn(burnOf(idOf(1)))).sequence).toBe(1);
    expect(codeOf(await store.keepBurn(burnOf(idOf(1), {}, { actualMin: 1 })))).toBe('STORE-ID-TAKEN');
    expect(codeOf(await store.keepBurn(burnOf(idOf(2), { replaces: idOf(7) })))).toBe('STORE-BURN-UNKNOWN');
    expect(codeOf(await store.keepBurn({ ...burnOf(idOf(2)), content: null }))).toBe('STORE-BURN-UNKNOWN');
  });
});

describe('offers', () => {
  const drawingText = '0\nEOF\n';
  const ref = (text: string, fileName: string) => ({ sha256: hashOf(text), fileName, byteLength: text.length });
  const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
  const offer: OfferRecord = {
    id: idOf(50),
    jobId: JOB,
    revisionId: idOf(1),
    madeAt: '2026-11-25T11:00:00.000Z',
    madeBy: 'Desk by the window',
    quantity: 3,
    unitPrice: 412.35,
    currency: 'EUR',
    lossRisk: 0.12,
    promisedDay: '2026-12-04',
    bookSha256: hashOf('{"book":1}'),
    postSha256: hashOf('{"post":1}'),
    drawing: ref(drawingText, 'plate.dxf'),
    sheet: ref('{"sheet":1}', 'sheet.json'),
    papers: [ref('paper two', 'b.pdf'), ref('paper one', 'a.pdf')],
  };
  const files = ['{"sheet":1}', 'paper one', 'paper two'].map(bytes);

  async function prepare(): Promise<void> {
    await store.keepFile(bytes(drawingText));
    await store.keepBook(bookOf('{"book":1}', null), '{"book":1}');
    await store.keepBook(bookOf('{"post":1}', null, { kind: 'post' }), '{"post":1}');
    await store.keepRevision(revisionOf(idOf(1), [], { drawing: offer.drawing }));
  }

  test('come back with everything that was handed over', async () => {
    await prepare();
    expect(must(await store.keepOffer(offer, files))).toEqual(offer);
    expect(must(await store.keepOffer(offer, files))).toEqual(offer);
    expect(await store.offer(offer.id)).toEqual(offer);
    expect((await store.job(JOB))!.offers).toEqual([offer]);
    expect((await store.changes(0)).jobs[0]!.offerCount).toBe(1);
    expect(new TextDecoder().decode((await store.file(offer.papers[1]!.sha256))!)).toBe('paper one');
  });

  test('with a missing paper nothing at all is kept', async () => {
    await prepare();
    expect(codeOf(await store.keepOffer(offer, files.slice(0, 2)))).toBe('STORE-FILE-UNKNOWN');
    expect(await store.offer(offer.id)).toBeNull();
    expect(await store.file(offer.sheet.sha256)).toBeNull();
  });

  test('need their revision and books', async () => {
    expect(codeOf(await store.keepOffer(offer, files))).toBe('STORE-REVISION-UNKNOWN');
    await prepare();
    const swapped = { ...offer, bookSha256: offer.postSha256 };
    expect(codeOf(await store.keepOffer(swapped, files))).toBe('STORE-BOOK-UNKNOWN');
  });

  test('with other content under the same id are refused', async () => {
    await prepare();
    await store.keepOffer(offer, files);
    expect(codeOf(await store.keepOffer({ ...offer, unitPrice: 1 }, files))).toBe('STORE-ID-TAKEN');
  });
});

describe('changes', () => {
  test('tell what is new, with jobs as they stand now, each once', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    const seen = await store.changes(0);
    expect(seen).toMatchObject({ storeId: store.storeId, sequence: 1, more: false });
    await store.keepRevision(revisionOf(idOf(2), [idOf(1)]));
    await store.keepRevision(revisionOf(idOf(3), [idOf(2)]));
    const { jobs, sequence } = await store.changes(seen.sequence);
    expect(jobs.map((j) => j.head.id)).toEqual([idOf(3)]);
    expect(await store.changes(sequence)).toMatchObject({ sequence: 3, jobs: [], burns: [], books: [], more: false });
  });

  test('tell the version that went out of use again', async () => {
    await store.keepBook(bookOf('{"v":1}', null), '{"v":1}');
    const after = await store.sequence();
    await store.keepBook(bookOf('{"v":2}', hashOf('{"v":1}')), '{"v":2}');
    expect((await store.changes(after)).books.map((b) => b.isCurrent)).toEqual([false, true]);
  });

  test('a reader ahead of a store that was put back is told where it stands', async () => {
    await store.keepRevision(revisionOf(idOf(1), []));
    expect(await store.changes(99)).toMatchObject({ sequence: 1, jobs: [], more: false });
  });
});
