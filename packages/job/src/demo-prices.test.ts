import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { offerFor } from '@gapwright/costing';
import { planWire } from '@gapwright/planning';
import { parseShopBook } from '@gapwright/process';
import { expect, test } from 'vitest';
import { parseJobFile } from './job-file.js';
import { readDrawing } from './read-drawing.js';
import { readOptionsOf, requestOf } from './run-job.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const book = parseShopBook(JSON.parse(readFileSync(join(ROOT, 'shop/starting-shop-book.json'), 'utf8'))).value!;

test.each(readdirSync(join(ROOT, 'demo')).filter((name) => !name.includes('.')))(
  '%s: the price of a piece does not rise with the quantity, nor the order value fall',
  (name) => {
    const path = (file: string): string => join(ROOT, 'demo', name, file);
    const job = parseJobFile(readFileSync(path('job.json'), 'utf8'), 'job.json').value!;
    const drawing = readDrawing({ bytes: readFileSync(path(job.drawing)), fileName: job.drawing }, readOptionsOf(job));
    const { contours } = drawing.profile!;
    const quantities = [...new Set([...job.offer!.quantities!, job.quantity])].sort((a, b) => a - b);
    const offers = quantities.map((quantity) =>
      offerFor(planWire(contours, { ...requestOf(job), quantity }, book), book, { seed: 1 }),
    );
    expect(offers.length).toBeGreaterThan(2);
    for (const [i, offer] of offers.entries()) {
      const before = offers[i - 1];
      if (before === undefined) continue;
      expect(offer.unitPrice.value).toBeLessThanOrEqual(before.unitPrice.value);
      expect(offer.orderValue.value).toBeGreaterThanOrEqual(before.orderValue.value);
    }
  },
  30_000,
);
