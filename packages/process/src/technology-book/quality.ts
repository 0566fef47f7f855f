import { type Problem, problem } from '@gapwright/base';
import { extentOf } from './extent.js';
import { fittedNotMeasured } from './fitted-not-measured.js';
import type { ImportedRow, ImportMapping } from './import-mapping.js';
import { roleOf, TECHNOLOGY_QUANTITIES, TECHNOLOGY_QUANTITY_NAMES, withUnit } from './quantities.js';
import type { QuantityValues } from './technology-point.js';
import { unitFactor, unitsLike } from './units.js';

/**
 * Judges imported rows. Stops `TECH-UNIT-IMPOSSIBLE` (values that cannot be in the stated unit, with the unit that would
 * fit) and `TECH-ABOVE-CEILING` (more metal than the power could melt). Warns `TECH-NEAR-CEILING`, `TECH-DUPLICATE` (the same
 * row twice) and `TECH-FITTED` (results that follow a formula to the last digit). Tells `TECH-REPLICATES`: how far equal
 * conditions spread, the noise no model can beat.
 */
export function findingsOf(rows: readonly ImportedRow[], mapping: ImportMapping): Problem[] {
  return [
    ...impossible(rows, mapping),
    ...aboveCeiling(rows, mapping),
    ...repeated(rows.filter(hasResult)),
    ...fitted(rows),
  ];
}

function hasResult({ point }: ImportedRow): boolean {
  return Object.keys(point.results).length > 0;
}

function rowList(rows: readonly ImportedRow[]): string {
  const shown = rows.slice(0, 6).map((r) => r.row);
  return `row${rows.length === 1 ? '' : 's'} ${shown.join(', ')}${rows.length > shown.length ? ` and ${rows.length - shown.length} more` : ''}`;
}

function impossible(rows: readonly ImportedRow[], mapping: ImportMapping): Problem[] {
  const problems: Problem[] = [];
  for (const column of mapping.columns) {
    const { quantity, unit, header } = column;
    const entry = TECHNOLOGY_QUANTITIES[quantity];
    const [low, high] = entry.possible[mapping.process];
    const wrong = rows.filter((r) => {
      const cell = r.cells[quantity];
      return cell !== undefined && !(cell.value >= low && cell.value <= high);
    });
    if (wrong.length === 0) continue;
    const first = wrong[0]!;
    const value = first.cells[quantity]!.value;
    const factor = unitFactor(unit, entry.unit, column.densityGPerCm3).value!;
    const better = unitsLike(unit).filter((other) => {
      const otherFactor = unitFactor(other, entry.unit, column.densityGPerCm3).value;
      return (
        otherFactor !== null &&
        rows.every((r) => {
          const cell = r.cells[quantity];
          if (cell === undefined) return true;
          const converted = (cell.value / factor) * otherFactor;
          return converted >= low && converted <= high;
        })
      );
    });
    const what = `${header} in ${rowList(wrong)} gives ${entry.says} ${withUnit(String(Number(value.toPrecision(4))), quantity)}; ${mapping.process} work has ${low} to ${high}`;
    const fix =
      better.length > 0
        ? `Check the unit: "${unit}" is stated, ${better.join(' or ')} would fit, and a setting number of the machine is no ${entry.says}`
        : `Check the column: a setting number of the machine is no ${entry.says}`;
    const at = { line: first.row, field: header };
    problems.push(problem({ code: 'TECH-UNIT-IMPOSSIBLE', severity: 'stop', what, fix, at }));
  }
  return problems;
}

/** Highest gap voltage anything burns at, V; used as a bound when a table states none. */
const GAP_VOLTAGE_BOUND_V = 100;
const NEAR_CEILING = 0.3;

/**
 * Share of what the power could melt, from the conditions of one burn; null when the table does not say enough. The power is
 * a bound from above: voltage as stated (or the highest gap voltage), every pulse sparking with its full current.
 */
export function shareOfMelting(
  conditions: QuantityValues,
  results: QuantityValues,
  meltJPerMm3: number,
): number | null {
  const { currentA, onTimeUs, offTimeUs } = conditions;
  if (currentA === undefined || onTimeUs === undefined || offTimeUs === undefined) return null;
  const volt = conditions.gapVoltageV ?? conditions.openVoltageV ?? conditions.servoVoltageV ?? GAP_VOLTAGE_BOUND_V;
  const watts = (volt * currentA * onTimeUs) / (onTimeUs + offTimeUs);
  const { removalMm3PerMin, areaRateMm2PerMin } = results;
  // A kerf is wider than the wire, so wire diameter times area rate is a bound from below.
  const kerf = conditions.toolMm;
  const removal =
    removalMm3PerMin ?? (areaRateMm2PerMin !== undefined && kerf !== undefined ? areaRateMm2PerMin * kerf : null);
  return removal === null ? null : (removal * meltJPerMm3) / (60 * watts);
}

function aboveCeiling(rows: readonly ImportedRow[], mapping: ImportMapping): Problem[] {
  const melt = mapping.meltEnergyJPerMm3;
  if (melt === undefined) return [];
  const shares = rows.map((r) => ({ r, share: shareOfMelting(r.point.conditions, r.point.results, melt) }));
  const problems: Problem[] = [];
  const above = shares.filter(({ share }) => share !== null && share > 1);
  const near = shares.filter(({ share }) => share !== null && share > NEAR_CEILING && share <= 1);
  const most = (list: typeof shares): string => `${Math.round(100 * extentOf(list.map(({ share }) => share!))[1])} %`;
  if (above.length > 0) {
    const what = `${rowList(above.map(({ r }) => r))} would melt up to ${most(above)} of what the power could, which is impossible`;
    const fix =
      'Check the units of rate, current and times, the density, and whether setting numbers were taken for values';
    problems.push(
      problem({
        code: 'TECH-ABOVE-CEILING',
        severity: 'stop',
        what: capital(what),
        fix,
        at: { line: above[0]!.r.row },
      }),
    );
  }
  if (near.length > 0) {
    const what = `${rowList(near.map(({ r }) => r))} would melt up to ${most(near)} of what the power could`;
    const fix = 'Spark erosion works at 1 to 30 %; check the units before trusting these rows';
    problems.push(
      problem({ code: 'TECH-NEAR-CEILING', severity: 'warn', what: capital(what), fix, at: { line: near[0]!.r.row } }),
    );
  }
  return problems;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const keyOf = (values: QuantityValues): string => TECHNOLOGY_QUANTITY_NAMES.map((name) => values[name] ?? '').join(';');

/** Rows under equal conditions, by group; groups of one are left out. */
export function replicateGroups(rows: readonly ImportedRow[]): readonly (readonly ImportedRow[])[] {
  const groups = new Map<string, ImportedRow[]>();
  for (const row of rows) {
    const { material, tool, conditions } = row.point;
    const key = `${material}|${tool}|${keyOf(conditions)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

/** Groups told one by one, the largest first; the rest is counted. */
const MOST_GROUPS_TOLD = 3;

function repeated(rows: readonly ImportedRow[]): Problem[] {
  const problems: Problem[] = [];
  const twice: ImportedRow[][] = [];
  const spreading: (readonly ImportedRow[])[] = [];
  for (const group of replicateGroups(rows)) {
    const byResult = new Map<string, ImportedRow[]>();
    for (const row of group) {
      const key = keyOf(row.point.results);
      const same = byResult.get(key);
      if (same === undefined) byResult.set(key, [row]);
      else same.push(row);
    }
    twice.push(...[...byResult.values()].filter((same) => same.length > 1));
    const spreads = TECHNOLOGY_QUANTITY_NAMES.some(
      (name) => new Set(group.flatMap((r) => r.point.results[name] ?? [])).size > 1,
    );
    if (spreads) spreading.push(group);
  }
  const more = (count: number): string =>
    count > MOST_GROUPS_TOLD ? `; so do ${count - MOST_GROUPS_TOLD} further groups` : '';
  if (twice.length > 0) {
    const told = twice.slice(0, MOST_GROUPS_TOLD).map(rowList).join('; ');
    const what = `${capital(told)} are equal in conditions and results${more(twice.length)}`;
    const fix = 'Repeated burns hardly agree to the last digit; keep one unless they were measured apart';
    problems.push(problem({ code: 'TECH-DUPLICATE', severity: 'warn', what, fix, at: { line: twice[0]![0]!.row } }));
  }
  spreading.sort((x, y) => y.length - x.length || x[0]!.row - y[0]!.row);
  const told = spreading.slice(0, MOST_GROUPS_TOLD).map((group) => spreadOf(group));
  if (spreading.length > MOST_GROUPS_TOLD) {
    const what = `${spreading.length - MOST_GROUPS_TOLD} further groups of burns under equal conditions spread as well`;
    told.push(problem({ code: 'TECH-REPLICATES', severity: 'info', what, fix: 'The largest groups are listed' }));
  }
  return [...problems, ...told];
}

function spreadOf(group: readonly ImportedRow[]): Problem {
  const parts: string[] = [];
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    if (roleOf(name) !== 'result') continue;
    const values = group.flatMap((r) => r.point.results[name] ?? []);
    if (values.length < 2) continue;
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const sd = Math.sqrt(values.reduce((a, v) => a + (v - mean) ** 2, 0) / (values.length - 1));
    const { says } = TECHNOLOGY_QUANTITIES[name];
    const [low, high] = extentOf(values);
    const short = (v: number): string => String(Number(v.toPrecision(4)));
    parts.push(`${says} ${short(low)} to ${withUnit(short(high), name)} (${Math.round((100 * sd) / mean)} %)`);
  }
  const what = `${group.length} burns under equal conditions (${rowList(group)}) spread: ${parts.join(', ')}`;
  const fix = 'No estimate from this table can be surer than that';
  return problem({ code: 'TECH-REPLICATES', severity: 'info', what, fix, at: { line: group[0]!.row } });
}

function fitted(rows: readonly ImportedRow[]): Problem[] {
  const problems: Problem[] = [];
  const conditionNames = TECHNOLOGY_QUANTITY_NAMES.filter(
    (name) => roleOf(name) === 'condition' && new Set(rows.map((r) => r.point.conditions[name])).size > 1,
  );
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    if (roleOf(name) !== 'result') continue;
    const full = rows.filter(
      (r) => r.cells[name] !== undefined && conditionNames.every((c) => r.cells[c] !== undefined),
    );
    if (full.length === 0 || conditionNames.length === 0) continue;
    const factors = full.map((r) => conditionNames.map((c) => r.cells[c]!.value));
    const y = full.map((r) => r.cells[name]!.value);
    // The finest step in the column: trailing zeros are often not written.
    const [step] = extentOf(full.map((r) => r.cells[name]!.step));
    const finding = fittedNotMeasured(factors, y, step);
    if (finding === null) continue;
    const form =
      finding.kind === 'quadratic' ? 'a quadratic formula of the settings' : `one number per setting, ${finding.kind}`;
    const what = `All ${full.length} values of ${TECHNOLOGY_QUANTITIES[name].says} follow ${form} to the last digit, with ${finding.freedom} rows to spare`;
    const fix = 'These values were computed from a fit, not measured; ask for the measured ones';
    problems.push(problem({ code: 'TECH-FITTED', severity: 'warn', what, fix, at: { field: name } }));
  }
  return problems;
}
