import type { Engine } from '../connection/engine.js';
import { jobs } from './0001-jobs.js';
import { booksAndBurns } from './0002-books-and-burns.js';
import { offers } from './0003-offers.js';
import type { Migration } from './migration.js';

const MIGRATIONS: readonly Migration[] = [jobs, booksAndBurns, offers];

/** Version of the tables this program works with. */
export const SCHEMA_VERSION = MIGRATIONS.length;

/** Version of the tables as they are; 0 when there are none yet, null when the database belongs to something else. */
export async function schemaVersion(engine: Engine): Promise<number | null> {
  const tables = await engine.db.introspection.getTables();
  if (!tables.some((table) => table.name === 'gapwright_schema')) return tables.length === 0 ? 0 : null;
  return versionIn(engine.db);
}

/**
 * Brings the tables up to a version, each step in a transaction of its own: a step is there whole or not at all.
 * Two programs may do this at once; each step looks again once it holds the database.
 */
export async function migrate(engine: Engine, upTo = SCHEMA_VERSION): Promise<void> {
  for (const migration of MIGRATIONS.slice(0, upTo)) {
    await engine.db.transaction().execute(async (db) => {
      await db.schema
        .createTable('gapwright_schema')
        .ifNotExists()
        .addColumn('version', 'integer', (c) => c.primaryKey())
        .addColumn('says', 'text', (c) => c.notNull())
        .execute();
      if ((await versionIn(db)) >= migration.version) return;
      await migration.up(db, engine);
      await db.insertInto('gapwright_schema').values({ version: migration.version, says: migration.says }).execute();
    });
  }
}

async function versionIn(db: Engine['db']): Promise<number> {
  const row = await db
    .selectFrom('gapwright_schema')
    .select((eb) => eb.fn.max<number | null>('version').as('version'))
    .executeTakeFirst();
  return row?.version ?? 0;
}
