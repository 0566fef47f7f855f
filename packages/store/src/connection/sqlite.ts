import Database from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Driver,
  Kysely,
  type SqliteDatabase,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
  type SqliteStatement,
  sql,
  type TransactionSettings,
} from 'kysely';
import type { Tables } from '../tables.js';
import type { Engine } from './engine.js';

/** How long a writer waits for another program that writes at the same moment, ms. */
const BUSY_MS = 5_000;

/** A file up to this size is read through when it is opened, bytes; it takes well under a second. */
const READ_THROUGH_BYTES = 128 * 1024 * 1024;

export interface SqliteEngine extends Engine {
  /** Makes the connection safe to write with. */
  prepare(): void;
  /** Throws when the file is damaged. Larger files are trusted until they are read. */
  checkDamage(): void;
}

/**
 * Opens a SQLite file, or a database in memory for `:memory:`. The file is not touched before `prepare`, so that a
 * foreign file stays as it is.
 */
export function openSqlite(file: string): SqliteEngine {
  const sqlite = new Database(file, { timeout: BUSY_MS });
  const db = new Kysely<Tables>({ dialect: new ImmediateSqliteDialect({ database: rememberingStatements(sqlite) }) });
  return {
    db,
    bytesType: 'blob',
    prepare() {
      // Readers and one writer at once; with FULL a commit is on the disk when it is answered.
      sqlite.pragma('journal_mode = WAL');
      sqlite.pragma('synchronous = FULL');
      sqlite.pragma('foreign_keys = ON');
    },
    checkDamage() {
      const pages = sqlite.pragma('page_count', { simple: true }) as number;
      const pageBytes = sqlite.pragma('page_size', { simple: true }) as number;
      if (pages * pageBytes > READ_THROUGH_BYTES) return;
      const found = sqlite.pragma('quick_check(1)', { simple: true }) as string;
      if (found !== 'ok') throw new Database.SqliteError(found, 'SQLITE_CORRUPT');
    },
    async forbidChanges(transaction, table) {
      for (const change of ['update', 'delete']) {
        const name = sql.id(`${table}_no_${change}`);
        const says = sql.lit(`${table} only takes new rows`);
        await sql`create trigger ${name} before ${sql.raw(change)} on ${sql.table(table)}
          begin select raise(abort, ${says}); end`.execute(transaction);
      }
    },
    async faults() {
      const rows = sqlite.pragma('integrity_check(10)') as { integrity_check: string }[];
      const dangling = sqlite.pragma('foreign_key_check') as { table: string; parent: string }[];
      return [
        ...rows.map((row) => row.integrity_check).filter((line) => line !== 'ok'),
        ...dangling.map((row) => `${row.table} points at a row of ${row.parent} that is not there`),
      ];
    },
    explain: (error) => explainSqlite(error, file),
    async close() {
      await db.destroy();
      // Kysely opens its side with the first query only.
      if (sqlite.open) sqlite.close();
    },
  };
}

/** Enough for every query of the store several times over; lists of other lengths are other statements. */
const MOST_STATEMENTS = 200;

/** Prepares each query once, which is half the work of a small save. Forgets all when tables change. */
function rememberingStatements(sqlite: Database.Database): SqliteDatabase {
  const known = new Map<string, SqliteStatement>();
  return {
    close: () => sqlite.close(),
    prepare(text) {
      if (/^\s*create/i.test(text) || known.size >= MOST_STATEMENTS) known.clear();
      const statement = known.get(text) ?? sqlite.prepare(text);
      known.set(text, statement);
      return statement;
    },
  };
}

/** Error of SQLite as a sentence; null for anything else. */
export function explainSqlite(error: unknown, file: string): string | null {
  if (error instanceof TypeError && /directory does not exist/.test(error.message)) {
    return `The folder of ${file} does not exist. Make it first.`;
  }
  if (!(error instanceof Database.SqliteError)) return null;
  const says = SENTENCES.find(([start]) => error.code.startsWith(start))?.[1];
  return says === undefined ? `${file} cannot be used: ${error.message} (${error.code}).` : `${file} ${says}`;
}

const SENTENCES: readonly (readonly [string, string])[] = [
  ['SQLITE_NOTADB', 'is not a Gapwright database. Name another file or folder.'],
  ['SQLITE_CORRUPT', 'is damaged. Put back the last copy of it that was whole, and keep the damaged one.'],
  ['SQLITE_BUSY', 'is held by another program that writes. Try again in a moment.'],
  ['SQLITE_LOCKED', 'is held by another program that writes. Try again in a moment.'],
  ['SQLITE_FULL', 'cannot grow: the disk is full. Make room; nothing that was saved is lost.'],
  ['SQLITE_READONLY', 'may not be written. Give this user the right to write it and its folder.'],
  ['SQLITE_CANTOPEN', 'cannot be opened. Check that its folder exists and may be written.'],
  ['SQLITE_IOERR', 'cannot be read or written: the disk reports an error. Check the disk.'],
];

/**
 * Begins write transactions with the write lock already held. A plain `begin` would take it at the first write and fail
 * at once when another program had written in between, however long the wait.
 */
class ImmediateSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection, settings?: TransactionSettings): Promise<void> {
    const isReadOnly = settings?.accessMode === 'read only';
    await connection.executeQuery(CompiledQuery.raw(isReadOnly ? 'begin' : 'begin immediate'));
  }
}

class ImmediateSqliteDialect extends SqliteDialect {
  readonly #config: SqliteDialectConfig;

  constructor(config: SqliteDialectConfig) {
    super(config);
    this.#config = config;
  }

  override createDriver(): Driver {
    return new ImmediateSqliteDriver(this.#config);
  }
}
