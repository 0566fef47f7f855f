import { type Problem, problem, type Result } from '@gapwright/base';
import { explainSqlite, openSqlite, type SqliteEngine } from './connection/sqlite.js';
import { migrate, SCHEMA_VERSION, schemaVersion } from './migrations/migrate.js';
import { type Store, storeOn } from './store.js';

/**
 * Opens the store in a SQLite file and brings its tables up to date; `:memory:` keeps nothing. Several programs may have
 * the same file open. Refuses, with one sentence, a file that is no store (`STORE-FOREIGN`), was written by a newer
 * program (`STORE-NEWER`) or cannot be used (`STORE-UNUSABLE`); such a file is left as it is.
 */
export async function openStore({ file }: { readonly file: string }): Promise<Result<Store>> {
  let engine: SqliteEngine | null = null;
  try {
    engine = openSqlite(file);
    const version = await schemaVersion(engine);
    const refused = refusalOf(file, version);
    if (refused !== null) {
      await engine.close();
      return { value: null, problems: [refused] };
    }
    engine.checkDamage();
    engine.prepare();
    if (version !== SCHEMA_VERSION) await migrate(engine);
    const { store_id } = await engine.db.selectFrom('store_info').select('store_id').executeTakeFirstOrThrow();
    return { value: storeOn(engine, store_id), problems: [] };
  } catch (error) {
    await engine?.close().catch(() => undefined);
    const says = explainSqlite(error, file);
    if (says === null) throw error;
    return { value: null, problems: [{ code: 'STORE-UNUSABLE', severity: 'stop', message: says, at: { file } }] };
  }
}

function refusalOf(file: string, version: number | null): Problem | null {
  if (version === null) {
    const what = `${file} is a database of another program`;
    return problem({ code: 'STORE-FOREIGN', severity: 'stop', what, fix: 'Name another file or folder', at: { file } });
  }
  if (version <= SCHEMA_VERSION) return null;
  const what = `${file} was written by a newer Gapwright (tables ${version}, this program knows ${SCHEMA_VERSION})`;
  const fix = 'Start it with that version or a later one; nothing was changed';
  return problem({ code: 'STORE-NEWER', severity: 'stop', what, fix, at: { file } });
}
