import { type Problem, problem, type Result } from '@gapwright/base';
import {
  type ImportMapping,
  TECHNOLOGY_QUANTITIES,
  TECHNOLOGY_QUANTITY_NAMES,
  type TechnologyQuantity,
} from '@gapwright/process';
import { z } from 'zod';

const word = z.string().min(1).max(200);
const textOrColumn = z.union([z.strictObject({ text: word }), z.strictObject({ column: word })], {
  error: 'must be {"text": "…"} or {"column": "…"}',
});

/** How a table of burns becomes points of the technology book: which column holds what, in which unit. */
export const technologyMapSchema = z
  .strictObject({
    gapwrightTechnologyMap: z.literal(1),
    /** True for made-up demo data. */
    invented: z.boolean().exactOptional(),
    /** Start of the points' ids; the row number follows. Keep it when the table is imported again. */
    idPrefix: word,
    process: z.enum(['wire', 'sinking', 'small-hole']),
    /** Work material for all rows, or the column that names it. */
    material: textOrColumn,
    /** Electrode, wire or tube for all rows, or the column that names it. */
    tool: textOrColumn,
    source: z.strictObject({
      id: word,
      title: word,
      standing: z.enum(['published', 'from memory', 'common practice', 'computed', 'shop', 'job']),
      where: z.string().max(500).exactOptional(),
    }),
    /** Decimal sign of the table; a point when absent. */
    decimal: z.enum(['.', ',']).exactOptional(),
    /** Energy to warm and melt the work, J/mm3; that of the shop book's material when absent. */
    meltEnergyJPerMm3: z.number().positive().exactOptional(),
    columns: z
      .array(
        z.strictObject({
          /** Header as it stands in the table. */
          header: word,
          quantity: z.enum(Object.keys(TECHNOLOGY_QUANTITIES) as [TechnologyQuantity, ...TechnologyQuantity[]]),
          /** Unit the column is in, e.g. us, in2/h, g/min. */
          unit: word,
          /** Needed where a mass rate becomes a volume rate. */
          densityGPerCm3: z.number().positive().exactOptional(),
        }),
      )
      .min(1),
  })
  .meta({ title: 'Map of a table of burns to technology points' });

const FIX = 'Correct the map; docs/technology-book.md lists its fields';

/** Reads a map file's text. Stops `TECH-MAP-NOT-JSON` and `TECH-MAP-FIELD`, one per fault, with the field. */
export function parseTechnologyMap(text: string, fileName: string): Result<ImportMapping> {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    const what = `${fileName} is not JSON: ${error instanceof Error ? error.message : String(error)}`;
    return { value: null, problems: [problem({ code: 'TECH-MAP-NOT-JSON', severity: 'stop', what, fix: FIX })] };
  }
  const parsed = technologyMapSchema.safeParse(data, { error: faultOf });
  if (parsed.success) {
    const { gapwrightTechnologyMap: _, invented: __, ...mapping } = parsed.data;
    return { value: mapping, problems: [] };
  }
  const problems = parsed.error.issues.map((issue): Problem => {
    const field = issue.path.map(String).join('.') || '(top level)';
    const what = `${fileName}: field ${field} ${issue.message}`;
    return problem({ code: 'TECH-MAP-FIELD', severity: 'stop', what, fix: FIX, at: { file: fileName, field } });
  });
  return { value: null, problems };
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  string: 'text in quotation marks',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object in braces',
};

/** What is wrong with a field; null leaves it to the schema. */
function faultOf(issue: z.core.$ZodRawIssue): string | null {
  if (issue.code === 'unrecognized_keys') return `has no use for ${issue.keys.join(', ')}`;
  if (issue.code === 'invalid_union') return null;
  if (issue.input === undefined) return 'is missing';
  if (issue.code === 'invalid_type') return `must be ${KINDS[issue.expected] ?? issue.expected}`;
  if (issue.code === 'invalid_value') {
    if (issue.values.length === 1) return `must be ${String(issue.values[0])}`;
    const isQuantity = issue.values.length === TECHNOLOGY_QUANTITY_NAMES.length;
    return `is ${JSON.stringify(issue.input)}; ${isQuantity ? 'the quantities are' : 'use one of'} ${issue.values.map(String).join(', ')}`;
  }
  if (issue.code === 'too_small') return issue.origin === 'number' ? 'must be above 0' : 'must not be empty';
  return null;
}
