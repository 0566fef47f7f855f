import type { ColumnType } from 'kysely';

/** A column that is written once and never changed. */
type Once<T> = ColumnType<T, T, never>;

/** 0 or 1: not every database has a boolean of its own. */
type Flag = Once<0 | 1>;

interface SchemaVersionTable {
  version: Once<number>;
  says: Once<string>;
}

/** One row: who this store is, and how much it has taken. */
interface StoreInfoTable {
  id: Once<1>;
  store_id: Once<string>;
  /** The only value in the store that ever changes. */
  last_sequence: number;
}

interface FileTable {
  sha256: Once<string>;
  byte_length: Once<number>;
  bytes: Once<Uint8Array>;
}

export interface RevisionTable {
  id: Once<string>;
  job_id: Once<string>;
  parent_id: Once<string | null>;
  second_parent_id: Once<string | null>;
  made_at: Once<string>;
  made_by: Once<string>;
  says: Once<string>;
  stage: Once<string>;
  /** JSON text. */
  content: Once<string>;
  drawing_sha256: Once<string | null>;
  drawing_name: Once<string | null>;
  book_sha256: Once<string | null>;
  /** 1 when it came on top of the head (or began the job), 0 when the job had moved on. */
  took_head: Flag;
  sequence: Once<number>;
}

export interface BookVersionTable {
  sequence: Once<number>;
  kind: Once<string>;
  sha256: Once<string>;
  parent_sha256: Once<string | null>;
  made_at: Once<string>;
  made_by: Once<string>;
  says: Once<string>;
  /** 1 when it was made from the version in use (or is the first), so that it came into use. */
  took_over: Flag;
}

export interface BurnTable {
  id: Once<string>;
  made_at: Once<string>;
  made_by: Once<string>;
  replaces_id: Once<string | null>;
  /** The first entry of the chain of corrections; the entry itself when it corrects none. */
  root_id: Once<string>;
  /** JSON text; null strikes. */
  content: Once<string | null>;
  sequence: Once<number>;
}

interface OfferTable {
  id: Once<string>;
  job_id: Once<string>;
  revision_id: Once<string>;
  made_at: Once<string>;
  made_by: Once<string>;
  quantity: Once<number>;
  unit_price: Once<number>;
  currency: Once<string>;
  loss_risk: Once<number>;
  promised_day: Once<string | null>;
  book_sha256: Once<string>;
  post_sha256: Once<string>;
  sequence: Once<number>;
}

/** Files of an offer: its drawing, its sheet, and its papers in order. */
interface OfferFileTable {
  offer_id: Once<string>;
  role: Once<'drawing' | 'sheet' | 'paper'>;
  position: Once<number>;
  sha256: Once<string>;
  file_name: Once<string>;
}

/** All tables. Times and days are ISO 8601 text, lengths and counts integers, money and shares reals. */
export interface Tables {
  gapwright_schema: SchemaVersionTable;
  store_info: StoreInfoTable;
  files: FileTable;
  revisions: RevisionTable;
  book_versions: BookVersionTable;
  burns: BurnTable;
  offers: OfferTable;
  offer_files: OfferFileTable;
}
