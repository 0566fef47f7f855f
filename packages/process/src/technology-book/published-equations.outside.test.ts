import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import { publishedEquation, publishedModel, readCells } from '../testing/published-tables.js';
import { checkEquation } from './check-equation.js';
import { evaluatePolynomial } from './polynomial.js';

const CHECKED = [
  {
    id: 'kumar_wedm_cp_ti_grade2',
    short: 'kumar',
    digits: 5e-5,
    who: 'Kumar et al. 2013, attribution from memory',
    standing: 'from memory',
  },
  {
    id: 'padhi_wedm_2016',
    short: 'padhi',
    digits: 1e-12,
    who: 'Padhi et al. 2016, coded levels',
    standing: 'published',
  },
] as const;

describe('published equations at their check points', () => {
  it.each(CHECKED)('$short', ({ id, short, digits, who, standing }) => {
    const model = publishedModel(id);
    expect(model.check_points!.length).toBeGreaterThan(0);
    model.check_points!.forEach((point, k) => {
      for (const [output, theirs] of Object.entries(point.out)) {
        outsideCheck({
          id: `technology-equation-${short}-${k + 1}-${output.toLowerCase().replaceAll('_', '-')}`,
          what: `${output} of the published equation at check point ${k + 1}`,
          ours: evaluatePolynomial(publishedEquation(model, output), point.in ?? point.in_coded!),
          theirs,
          unit: '1',
          allowed: digits,
          why: 'digits of the check point',
          source: who,
          standing,
        });
      }
    });
  });

  it('30 burns in Ti-13Zr-13Nb against their published equations', () => {
    const model = publishedModel('soundhar_sinker_2019');
    const rows = readCells('sinker-ti13zr13nb-graphite.csv').slice(1);
    const inputs = rows.map((row) => row.slice(1, 5).map(Number));
    const rate = checkEquation(
      publishedEquation(model, 'MRR_g_min'),
      inputs,
      rows.map((row) => Number(row[5])),
    );
    const common = {
      unit: 'g/min',
      source: 'Soundhar et al., Data in Brief 23 (2019) 103671',
      standing: 'published' as const,
    };
    outsideCheck({
      ...common,
      id: 'technology-ti13-rms',
      what: 'Removal rate: equation against the 30 burns, root mean square',
      ours: rate.rms,
      theirs: 0.011,
      allowed: 5e-4,
      why: 'two digits',
    });
    outsideCheck({
      ...common,
      id: 'technology-ti13-largest',
      what: 'Removal rate: largest difference of the equation from a burn',
      ours: rate.largest,
      theirs: 0.04,
      allowed: 1e-3,
      why: 'two digits',
    });
    const ra = checkEquation(
      publishedEquation(model, 'SR_um'),
      inputs,
      rows.map((row) => Number(row[7])),
    );
    expect(ra.problems).toEqual([]);
  });
});
