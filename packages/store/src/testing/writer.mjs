// Writes to a store from a process of its own until it is killed: FILE NAME COUNT. Each line on stdout is a record that
// was answered as kept, as JSON.
import { createHash, randomUUID } from 'node:crypto';
import { writeSync } from 'node:fs';
import { openStore } from '../../dist/index.js';

const [, , file, name, count] = process.argv;
const { value: store, problems } = await openStore({ file });
if (store === null) throw new Error(problems[0].message);
const jobId = name.length === 36 ? name : randomUUID();
const madeBy = `Writer ${process.pid}`;
const madeAt = '2026-11-25T10:00:00.000Z';
const answered = (kind, record) => writeSync(1, `${JSON.stringify({ kind, record })}\n`);

let parents = [];
for (let k = 0; k < Number(count); k++) {
  const bytes = new TextEncoder().encode(`${madeBy} ${k} ${'0\nLINE\n'.repeat(k % 500)}`);
  const sha256 = await store.keepFile(bytes);
  answered('file', { sha256, byteLength: bytes.length });

  const drawing = { sha256, fileName: `part-${k}.dxf`, byteLength: bytes.length };
  const content = { material: 'D2', heightMm: 40 + k, notes: 'n'.repeat((k * 37) % 3000) };
  const id = randomUUID();
  const says = `Step ${k}`;
  const revision = { id, jobId, parents, madeAt, madeBy, says, stage: 'to price', content, drawing, bookSha256: null };
  const kept = await store.keepRevision(revision);
  if (kept.value === null) throw new Error(kept.problems[0].message);
  answered('revision', revision);
  parents = [id];

  const burn = { id: randomUUID(), madeAt, madeBy, replaces: null, content: burnContent(k) };
  if ((await store.keepBurn(burn)).value === null) throw new Error('burn refused');
  answered('burn', burn);

  const text = JSON.stringify({ madeBy, k });
  const hash = createHash('sha256').update(text).digest('hex');
  const book = { kind: 'shop-book', sha256: hash, parent: null, madeAt, madeBy, says };
  if ((await store.keepBook(book, text)).value === null) throw new Error('book refused');
  answered('book', { ...book, text });
}
await store.close();

function burnContent(k) {
  const place = { day: '2026-11-24', material: 'D2', machine: 'W1', wire: 'B25', jobId: null, operation: null };
  return { ...place, heightMm: 40, level: 1, predictedMin: 60, actualMin: 61 + k, note: '' };
}
