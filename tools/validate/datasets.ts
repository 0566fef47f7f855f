import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readTable, type Table } from '@gapwright/process';

/** A published or open dataset kept in fixtures/process, with the responses worth learning. */
export interface Dataset {
  readonly id: string;
  readonly title: string;
  readonly file: string;
  readonly inputs: readonly string[];
  readonly responses: readonly { readonly column: string; readonly unit: string }[];
}

export const DATASETS: readonly Dataset[] = [
  {
    id: 'ti13zr13nb',
    title: 'Sinking, Ti-13Zr-13Nb with graphite (Soundhar and others 2019, 30 burns)',
    file: 'sinker-ti13zr13nb-graphite.csv',
    inputs: ['voltage_V', 'current_A', 'pulse_on_us', 'pulse_off_us'],
    responses: [
      { column: 'mrr_g_min', unit: 'g/min' },
      { column: 'ewr_g_min', unit: 'g/min' },
      { column: 'ra_um', unit: 'µm' },
    ],
  },
  {
    id: 'inconel825',
    title: 'Inconel 825, Box-Behnken design (open repository 2025, 15 burns)',
    file: 'in825-box-behnken.csv',
    inputs: ['pulse_on_us', 'pulse_off_us', 'current_A'],
    responses: [
      { column: 'ra_um', unit: 'µm' },
      { column: 'mrr_mm3_min', unit: 'mm³/min' },
    ],
  },
  {
    id: 'craters',
    title: 'Single wire-cutting craters on steel (open repository, 9 currents)',
    file: 'wire-single-craters-steel.csv',
    inputs: ['peak_current_A'],
    responses: [
      { column: 'crater_volume_mean_um3', unit: 'µm³' },
      { column: 'crater_area_mean_um2', unit: 'µm²' },
      { column: 'crater_depth_um', unit: 'µm' },
    ],
  },
];

/** These files are plain: commas, no quotes. */
export function loadTable(root: string, dataset: Dataset): Table {
  const text = readFileSync(join(root, 'fixtures/process', dataset.file), 'utf8');
  const lines = text.trim().split(/\r?\n/);
  const { value, problems } = readTable(lines.map((line) => line.split(',')));
  if (value === null) throw new Error(`${dataset.file}: ${problems[0]?.message}`);
  return value;
}
