import { readFileSync } from 'node:fs';
import type { Source } from '@gapwright/base';
import { IN825_DATA, TI13_DATA } from '../sinking/sources.js';
import type { ImportMapping } from '../technology-book/import-mapping.js';
import { type Polynomial, parsePolynomial } from '../technology-book/polynomial.js';

/** Cells of a CSV fixture as a reader hands them on: text, header first. */
export function readCells(name: string): string[][] {
  const text = readFileSync(new URL(`../../../../fixtures/process/${name}`, import.meta.url), 'utf8');
  return text
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(','));
}

/** Density that turns g/min of Ti-13Zr-13Nb into mm³/min: mixture of Ti, Zr and Nb by mass, g/cm³. */
export const TI13_DENSITY = 1 / (0.74 / 4.51 + 0.13 / 6.52 + 0.13 / 8.57);

const base = { process: 'sinking', tool: { text: 'graphite' } } as const;

/** Mapping of the 30 burns in Ti-13Zr-13Nb. 1.22 kJ/g to melt, published with the burns' heat balance. */
export const TI13_MAPPING: ImportMapping = {
  ...base,
  idPrefix: 'ti13',
  material: { text: 'Ti-13Zr-13Nb' },
  source: TI13_DATA,
  meltEnergyJPerMm3: 1220 * (TI13_DENSITY / 1000),
  columns: [
    { header: 'voltage_V', quantity: 'openVoltageV', unit: 'V' },
    { header: 'current_A', quantity: 'currentA', unit: 'A' },
    { header: 'pulse_on_us', quantity: 'onTimeUs', unit: 'us' },
    { header: 'pulse_off_us', quantity: 'offTimeUs', unit: 'us' },
    { header: 'mrr_g_min', quantity: 'removalMm3PerMin', unit: 'g/min', densityGPerCm3: TI13_DENSITY },
    { header: 'ewr_g_min', quantity: 'wearMm3PerMin', unit: 'g/min', densityGPerCm3: 1.8 },
    { header: 'ra_um', quantity: 'raUm', unit: 'µm' },
  ],
};

/** Mapping of the 15 burns in Inconel 825; the tool is not named. */
export const IN825_MAPPING: ImportMapping = {
  process: 'sinking',
  tool: { text: 'not stated' },
  idPrefix: 'in825',
  material: { text: 'Inconel 825' },
  source: IN825_DATA,
  meltEnergyJPerMm3: 6.41,
  columns: [
    { header: 'pulse_on_us', quantity: 'onTimeUs', unit: 'us' },
    { header: 'pulse_off_us', quantity: 'offTimeUs', unit: 'us' },
    { header: 'current_A', quantity: 'currentA', unit: 'A' },
    { header: 'ra_um', quantity: 'raUm', unit: 'um' },
    { header: 'mrr_mm3_min', quantity: 'removalMm3PerMin', unit: 'mm3/min' },
  ],
};

/** A published model with what the fixture says of it. */
export interface PublishedModel {
  readonly id: string;
  readonly source: string;
  readonly inputs: Readonly<Record<string, string>>;
  readonly equations: Readonly<Record<string, string>>;
  readonly check_points?: readonly {
    readonly in?: readonly number[];
    readonly in_coded?: readonly number[];
    readonly out: Readonly<Record<string, number>>;
  }[];
}

/** The published models of the fixture, by id. */
export function publishedModel(id: string): PublishedModel {
  const file = new URL('../../../../fixtures/process/published-regressions.json', import.meta.url);
  const { models } = JSON.parse(readFileSync(file, 'utf8')) as { models: PublishedModel[] };
  return models.find((m) => m.id === id)!;
}

/** One equation of a published model, read. */
export function publishedEquation(model: PublishedModel, output: string): Polynomial {
  const { value, problems } = parsePolynomial(model.equations[output]!, Object.keys(model.inputs));
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

/** A source for invented tables in tests. */
export const TEST_SOURCE: Source = { id: 'test-table', title: 'Invented table', standing: 'shop' };
