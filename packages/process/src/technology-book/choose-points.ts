import { type Problem, problem, type Result } from '@gapwright/base';
import {
  type ErosionProcess,
  TECHNOLOGY_QUANTITIES,
  TECHNOLOGY_QUANTITY_NAMES,
  type TechnologyQuantity,
} from './quantities.js';
import type { TechnologyPoint } from './technology-point.js';

/** What is asked, as far as it was said. */
export interface PointsWanted {
  readonly material: string;
  /** Results that would do, e.g. both kinds of rate. */
  readonly results: readonly TechnologyQuantity[];
  readonly process?: ErosionProcess;
  readonly tool?: string;
}

/** Which points a question is about. */
export interface PointsChosen {
  readonly process: ErosionProcess;
  readonly tool: string;
  readonly result: TechnologyQuantity;
}

const same = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase();
const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

/**
 * Fills in process, tool and result where the points leave one choice. Stops `TECH-NO-POINTS` (with what there is) and
 * `TECH-POINTS-UNCLEAR` (points of several processes, tools or results; the field says which must be named).
 */
export function choosePoints(points: readonly TechnologyPoint[], wanted: PointsWanted): Result<PointsChosen> {
  const none = (what: string, field: string, there: readonly string[]): Result<never> => {
    const fix =
      there.length === 0 ? 'Import or burn some' : `There is ${there.join(', ')}; import or burn what is missing`;
    return refuse('TECH-NO-POINTS', `The technology book has no points ${what}`, fix, field);
  };
  const ofMaterial = points.filter((p) => same(p.material, wanted.material));
  if (ofMaterial.length === 0) {
    return none(`for ${wanted.material}`, 'material', distinct(points.map((p) => p.material)).slice(0, MOST_TOLD));
  }
  const ofProcess = ofMaterial.filter((p) => wanted.process === undefined || p.process === wanted.process);
  if (ofProcess.length === 0) {
    return none(`for ${wanted.process} of ${wanted.material}`, 'process', distinct(ofMaterial.map((p) => p.process)));
  }
  const ofTool = ofProcess.filter((p) => wanted.tool === undefined || same(p.tool, wanted.tool));
  if (ofTool.length === 0) {
    return none(`for ${wanted.material} with ${wanted.tool}`, 'tool', distinct(ofProcess.map((p) => p.tool)));
  }
  const results = wanted.results.filter((name) => ofTool.some((p) => p.results[name] !== undefined));
  if (results.length === 0) {
    const says = wanted.results.map((name) => TECHNOLOGY_QUANTITIES[name].says).join(' or ');
    const there = TECHNOLOGY_QUANTITY_NAMES.filter((name) => ofTool.some((p) => p.results[name] !== undefined));
    return none(`that state ${says} of ${wanted.material}`, 'response', there);
  }
  const speaking = ofTool.filter((p) => results.some((name) => p.results[name] !== undefined));
  const processes = distinct(speaking.map((p) => p.process));
  const tools = distinct(speaking.map((p) => p.tool.toLowerCase()));
  const unclear = (field: string, choices: readonly string[]): Result<never> => {
    const what = `The points of ${wanted.material} are of more than one ${field}: ${choices.join(', ')}`;
    return refuse('TECH-POINTS-UNCLEAR', what, `Name the ${field}`, field);
  };
  if (processes.length > 1) return unclear('process', processes);
  if (tools.length > 1) return unclear('tool', tools);
  if (results.length > 1) return unclear('response', results);
  const { process, tool } = speaking[0]!;
  return { value: { process, tool, result: results[0]! }, problems: [] };
}

/** Names told at most. */
const MOST_TOLD = 12;

function refuse(code: string, what: string, fix: string, field: string): Result<never> {
  const problems: Problem[] = [problem({ code, severity: 'stop', what, fix, at: { field } })];
  return { value: null, problems };
}
