import type { Migration } from './migration.js';

/** Versions of books and the burn log. */
export const booksAndBurns: Migration = {
  version: 2,
  says: 'Keep versions of books and the burn log',
  async up(db, engine) {
    await db.schema
      .createTable('book_versions')
      .addColumn('sequence', 'bigint', (c) => c.primaryKey())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('sha256', 'text', (c) => c.notNull().references('files.sha256'))
      .addColumn('parent_sha256', 'text', (c) => c.references('files.sha256'))
      .addColumn('made_at', 'text', (c) => c.notNull())
      .addColumn('made_by', 'text', (c) => c.notNull())
      .addColumn('says', 'text', (c) => c.notNull())
      .addColumn('took_over', 'integer', (c) => c.notNull())
      .execute();
    await db.schema.createIndex('book_versions_by_kind').on('book_versions').columns(['kind', 'sha256']).execute();

    await db.schema
      .createTable('burns')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('made_at', 'text', (c) => c.notNull())
      .addColumn('made_by', 'text', (c) => c.notNull())
      .addColumn('replaces_id', 'text', (c) => c.references('burns.id'))
      .addColumn('root_id', 'text', (c) => c.notNull().references('burns.id'))
      .addColumn('content', 'text')
      .addColumn('sequence', 'bigint', (c) => c.notNull().unique())
      .execute();
    await db.schema.createIndex('burns_by_root').on('burns').columns(['root_id', 'sequence']).execute();

    for (const table of ['book_versions', 'burns']) await engine.forbidChanges(db, table);
  },
};
