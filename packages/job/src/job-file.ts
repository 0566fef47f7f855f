import { type Problem, problem, type Result } from '@gapwright/base';
import { z } from 'zod';

const positive = z.number().positive().finite();
const box = z.strictObject({ minX: z.number(), minY: z.number(), maxX: z.number(), maxY: z.number() });
const point = z.strictObject({ x: z.number(), y: z.number() });

/** Facts of one program's set-up, written by the planner's side and read by the proof; see the proof room. */
const setUpSchema = z.strictObject({
  wireDiameterMm: positive,
  heightMm: positive,
  levels: z.array(z.strictObject({ level: z.int(), gapMm: positive })),
  passes: z.array(
    z.strictObject({
      pass: z.int(),
      level: z.int(),
      register: z.int(),
      offsetMm: z.number(),
      stockMm: z.number(),
      feedMmPerMin: positive.exactOptional(),
    }),
  ),
  startHoles: z.array(z.strictObject({ id: z.string(), centre: point, diameterMm: z.number() })),
  plate: box.nullable(),
  keepOuts: z.array(z.strictObject({ id: z.string(), label: z.string(), box })),
  travel: box.nullable(),
  tabs: z.array(z.strictObject({ feature: z.string(), from: point, to: point })),
  mayFallUnattended: z.array(z.string()),
  toleranceMm: positive,
  agreedCornerRadiusMm: z.number().min(0),
});

const byFeature = <T extends z.ZodType>(value: T) => z.record(z.string().min(1), value);

/** Decisions of the plan taken by the planner instead; the planning room says what each means. */
const overridesSchema = z.strictObject({
  /** Passes by level of the shop book, the rough level first. */
  passLevels: z.array(z.int()).max(24).exactOptional(),
  startHoles: byFeature(
    z.strictObject({
      x: z.number(),
      y: z.number(),
      diameterMm: positive.exactOptional(),
      fromEdge: z.boolean().exactOptional(),
    }),
  ).exactOptional(),
  slugHandling: byFeature(z.enum(['falls free', 'tab', 'tab and support'])).exactOptional(),
  tabMm: byFeature(positive).exactOptional(),
  order: z.array(z.string().min(1)).exactOptional(),
});

/** A job as a file: what is asked for, what the planner overruled, and what the offer is. Lengths in mm unless named. */
export const jobFileSchema = z.strictObject({
  gapwrightJob: z.literal(1),
  /** True for made-up demo data; papers carry a mark. */
  invented: z.boolean().optional(),
  title: z.string().max(200).optional(),
  customer: z.string().max(200).optional(),
  enquiry: z.string().max(60).optional(),
  /** Drawing file, relative to the job file. */
  drawing: z.string().min(1),
  units: z.enum(['mm', 'cm', 'm', 'um', 'in', 'ft']).optional(),
  /** Gaps up to this size between drawn entities are closed and listed. */
  joinMm: positive.max(1).optional(),
  /** Layers to read; notes, frames and title blocks stay out. All visible layers when absent. */
  layers: z.array(z.string()).min(1).optional(),
  /** Layers to be cut; contours on other layers still tell inside from outside. All layers when absent. */
  cutLayers: z.array(z.string()).min(1).optional(),
  material: z.string().min(1),
  heightMm: positive,
  raUm: positive,
  /** Profile tolerance, plus or minus. */
  toleranceMm: positive,
  quantity: z.int().positive().max(100_000),
  recastMaxUm: positive.optional(),
  agreedCornerRadiusMm: z.number().min(0).optional(),
  wire: z.string().optional(),
  machine: z.string().optional(),
  stack: z.int().positive().optional(),
  plate: box.optional(),
  keepOuts: z.array(z.strictObject({ id: z.string(), label: z.string(), box })).optional(),
  openPartSide: z.enum(['left', 'right']).optional(),
  overrides: overridesSchema.optional(),
  offer: z
    .strictObject({
      /** Price per piece the planner wants to offer; computed from the margin rule when absent. */
      unitPrice: positive.optional(),
      quantities: z.array(z.int().positive()).max(12).optional(),
    })
    .optional(),
  /** Facts of the set-up of each program, by the program's file name. */
  setUps: z.record(z.string().min(1), setUpSchema).optional(),
});

export type JobFile = z.infer<typeof jobFileSchema>;

/** What is wrong with a field, in words of the job file; null leaves it to the schema. */
function fieldFault(issue: z.core.$ZodRawIssue): string | null {
  switch (issue.code) {
    case 'too_small':
    case 'too_big': {
      const isLow = issue.code === 'too_small';
      const limit = isLow ? issue.minimum : issue.maximum;
      if (issue.origin === 'string') return isLow ? 'must not be empty' : `must not be longer than ${limit} letters`;
      if (issue.origin === 'array') return isLow ? 'must not be empty' : `must not list more than ${limit}`;
      if (isLow) return `must be ${issue.inclusive ? 'at least' : 'above'} ${limit}`;
      return `must be ${issue.inclusive ? 'at most' : 'below'} ${limit}`;
    }
    case 'invalid_type':
      if (issue.input === undefined) return 'is missing';
      if (issue.expected === 'int') return 'must be a whole number';
      return `must be ${KINDS[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return `must be ${issue.values.map(String).join(' or ')}`;
    case 'unrecognized_keys':
      return `has no use for ${issue.keys.join(', ')}`;
    default:
      return null;
  }
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  string: 'text in quotation marks',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object in braces',
};

/** One problem per fault in a job description, with the field and the way out. */
export function checkJob(candidate: unknown, fileName: string): Result<JobFile> {
  const parsed = jobFileSchema.safeParse(candidate, { error: fieldFault });
  if (parsed.success) return { value: parsed.data, problems: [] };
  const problems: Problem[] = parsed.error.issues.map((issue) => {
    const field = issue.path.map(String).join('.') || '(top level)';
    return problem({
      code: 'JOB-BAD-FIELD',
      severity: 'stop',
      what: `${fileName}: field ${field} ${issue.message}`,
      fix: 'Correct the field; docs/job-file.md lists all of them',
      at: { file: fileName, field },
    });
  });
  return { value: null, problems };
}

/** Reads a job file's text. */
export function parseJobFile(text: string, fileName: string): Result<JobFile> {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    const what = `${fileName} is not JSON: ${error instanceof Error ? error.message : String(error)}`;
    const fix = 'Give a job file such as demo/coupling-spline/job.json, or a DXF drawing';
    return {
      value: null,
      problems: [problem({ code: 'JOB-NOT-JSON', severity: 'stop', what, fix, at: { file: fileName } })],
    };
  }
  return checkJob(data, fileName);
}
