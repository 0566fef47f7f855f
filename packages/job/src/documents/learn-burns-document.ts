import { type Problem, Z_80 } from '@gapwright/base';
import { dateText, type LogSummary, type UpdatedBook } from '@gapwright/process';
import { z } from 'zod';
import { documentName, problemSchema } from './common-schema.js';

const qualitySchema = z
  .strictObject({
    /** Median of |actual / forecast - 1|. */
    medianError: z.number(),
    coverage: z.strictObject({ '80': z.number(), '95': z.number() }),
  })
  .meta({ id: 'forecastQuality' });

/** `gapwright learn BURNS.csv --json` of a burn log. */
export const learnBurnsDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-learn-burns-1'),
    file: z.string(),
    burns: z.int(),
    from: z.string(),
    to: z.string(),
    before: qualitySchema,
    after: qualitySchema,
    afterLaterHalf: qualitySchema,
    effects: z.array(
      z.strictObject({
        kind: z.string(),
        name: z.string(),
        burns: z.int(),
        /** Times longer than the book says. */
        factor: z.number(),
        /** 80 % interval of the factor. */
        low: z.number(),
        high: z.number(),
        hasMoved: z.boolean(),
      }),
    ),
    alarms: z.array(
      z.strictObject({ machine: z.string(), kind: z.enum(['jump', 'drift']), date: z.string(), factor: z.number() }),
    ),
    /** The new version of the shop book; null when none was asked for. */
    book: z
      .strictObject({
        fromVersion: z.string(),
        toVersion: z.string(),
        out: z.string(),
        changes: z.array(
          z.strictObject({
            field: z.string(),
            from: z.number(),
            to: z.number(),
            logSd: z.number(),
            burns: z.int(),
          }),
        ),
      })
      .nullable(),
    warnings: z.array(z.string()),
    problems: z.array(problemSchema),
  })
  .meta({ title: 'gapwright learn BURNS.csv --json' });

export type LearnBurnsDocument = z.infer<typeof learnBurnsDocumentSchema>;

export function learnBurnsDocument(
  summary: LogSummary,
  days: { readonly first: number; readonly last: number },
  updated: { readonly book: UpdatedBook; readonly out: string } | null,
  problems: readonly Problem[],
  file: string,
): LearnBurnsDocument {
  return {
    document: 'gapwright-learn-burns-1',
    file,
    burns: summary.burns,
    from: dateText(days.first),
    to: dateText(days.last),
    before: summary.before,
    after: summary.after,
    afterLaterHalf: summary.afterLaterHalf,
    effects: summary.effects.map(({ kind, name, burns, mean, sd, hasMoved }) => ({
      ...{ kind, name, burns, hasMoved },
      factor: Math.exp(mean),
      low: Math.exp(mean - Z_80 * sd),
      high: Math.exp(mean + Z_80 * sd),
    })),
    alarms: summary.alarms.map(({ machine, kind, day, change }) => ({
      ...{ machine, kind, date: dateText(day) },
      factor: Math.exp(change),
    })),
    book:
      updated === null
        ? null
        : {
            fromVersion: updated.book.fromVersion,
            toVersion: updated.book.toVersion,
            out: updated.out,
            changes: [...updated.book.changes],
          },
    warnings: problems.map((p) => p.message),
    problems: [...problems],
  };
}
