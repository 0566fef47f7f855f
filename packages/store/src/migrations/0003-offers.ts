import type { Migration } from './migration.js';

/** Offers with everything that went to the customer. */
export const offers: Migration = {
  version: 3,
  says: 'Keep offers with their papers',
  async up(db, engine) {
    await db.schema
      .createTable('offers')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('job_id', 'text', (c) => c.notNull())
      .addColumn('revision_id', 'text', (c) => c.notNull().references('revisions.id'))
      .addColumn('made_at', 'text', (c) => c.notNull())
      .addColumn('made_by', 'text', (c) => c.notNull())
      .addColumn('quantity', 'integer', (c) => c.notNull())
      .addColumn('unit_price', 'double precision', (c) => c.notNull())
      .addColumn('currency', 'text', (c) => c.notNull())
      .addColumn('loss_risk', 'double precision', (c) => c.notNull())
      .addColumn('promised_day', 'text')
      .addColumn('book_sha256', 'text', (c) => c.notNull().references('files.sha256'))
      .addColumn('post_sha256', 'text', (c) => c.notNull().references('files.sha256'))
      .addColumn('sequence', 'bigint', (c) => c.notNull().unique())
      .execute();
    await db.schema.createIndex('offers_by_job').on('offers').columns(['job_id', 'sequence']).execute();

    await db.schema
      .createTable('offer_files')
      .addColumn('offer_id', 'text', (c) => c.notNull().references('offers.id'))
      .addColumn('role', 'text', (c) => c.notNull())
      .addColumn('position', 'integer', (c) => c.notNull())
      .addColumn('sha256', 'text', (c) => c.notNull().references('files.sha256'))
      .addColumn('file_name', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('offer_files_key', ['offer_id', 'position'])
      .execute();

    for (const table of ['offers', 'offer_files']) await engine.forbidChanges(db, table);
  },
};
