import { randomUUID } from 'node:crypto';
import type { Migration } from './migration.js';

/** Files, revisions of jobs, and the count of everything kept. */
export const jobs: Migration = {
  version: 1,
  says: 'Keep jobs and their drawings',
  async up(db, engine) {
    await db.schema
      .createTable('store_info')
      .addColumn('id', 'integer', (c) => c.primaryKey())
      .addColumn('store_id', 'text', (c) => c.notNull())
      .addColumn('last_sequence', 'bigint', (c) => c.notNull())
      .execute();
    await db.insertInto('store_info').values({ id: 1, store_id: randomUUID(), last_sequence: 0 }).execute();

    await db.schema
      .createTable('files')
      .addColumn('sha256', 'text', (c) => c.primaryKey())
      .addColumn('byte_length', 'integer', (c) => c.notNull())
      // After the rest, so that a length is found without reading through the bytes.
      .addColumn('bytes', engine.bytesType, (c) => c.notNull())
      .execute();

    await db.schema
      .createTable('revisions')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('job_id', 'text', (c) => c.notNull())
      .addColumn('parent_id', 'text', (c) => c.references('revisions.id'))
      .addColumn('second_parent_id', 'text', (c) => c.references('revisions.id'))
      .addColumn('made_at', 'text', (c) => c.notNull())
      .addColumn('made_by', 'text', (c) => c.notNull())
      .addColumn('says', 'text', (c) => c.notNull())
      .addColumn('stage', 'text', (c) => c.notNull())
      .addColumn('content', 'text', (c) => c.notNull())
      .addColumn('drawing_sha256', 'text', (c) => c.references('files.sha256'))
      .addColumn('drawing_name', 'text')
      .addColumn('book_sha256', 'text')
      .addColumn('took_head', 'integer', (c) => c.notNull())
      .addColumn('sequence', 'bigint', (c) => c.notNull().unique())
      .execute();
    await db.schema
      .createIndex('revisions_by_job')
      .on('revisions')
      .columns(['job_id', 'took_head', 'sequence'])
      .execute();
    await db.schema.createIndex('revisions_by_parent').on('revisions').column('parent_id').execute();
    await db.schema.createIndex('revisions_by_second_parent').on('revisions').column('second_parent_id').execute();

    for (const table of ['files', 'revisions']) await engine.forbidChanges(db, table);
  },
};
