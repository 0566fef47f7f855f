import { apply, BY_DEFINITION, defineLaw, type Figure, given } from '@gapwright/base';

const DUTY = defineLaw({
  id: 'duty',
  says: 'Share of the time the current may flow.',
  formula: 'ton / (ton + toff)',
  source: BY_DEFINITION,
  inputs: { ton: { unit: 'us', says: 'on-time' }, toff: { unit: 'us', says: 'off-time' } },
  output: '1',
  evaluate: ({ ton, toff }) => ton / (ton + toff),
});

const FREQUENCY = defineLaw({
  id: 'pulse-frequency',
  says: 'Sparks per second: at most one per on- and off-time, fewer when pulses fail to ignite.',
  formula: '1000 lambda / (ton + toff)',
  source: BY_DEFINITION,
  inputs: {
    ton: { unit: 'us', says: 'on-time' },
    toff: { unit: 'us', says: 'off-time' },
    lambda: { unit: '1', says: 'share of pulses that spark', valid: [0, 1] },
  },
  output: 'kHz',
  evaluate: ({ ton, toff, lambda }) => (1000 * lambda) / (ton + toff),
});

const MEAN_CURRENT = defineLaw({
  id: 'mean-current-rectangular',
  says: 'Mean current of rectangular pulses.',
  formula: 'I ton f / 1000',
  source: BY_DEFINITION,
  inputs: {
    I: { unit: 'A', says: 'pulse current' },
    ton: { unit: 'us', says: 'on-time' },
    f: { unit: 'kHz', says: 'sparks' },
  },
  output: 'A',
  evaluate: ({ I, ton, f }) => (I * ton * f) / 1000,
});

const EVERY_PULSE = given(1, '1', 'Every pulse sparks: the upper bound', BY_DEFINITION);

/** On-time as a share of on- and off-time. */
export function dutyOf(onTimeUs: Figure, offTimeUs: Figure): Figure {
  return apply(DUTY, { ton: onTimeUs, toff: offTimeUs });
}

/** Sparks, kHz. Without `sparkingShare` every pulse sparks, which is the upper bound. */
export function pulseFrequency(onTimeUs: Figure, offTimeUs: Figure, sparkingShare: Figure = EVERY_PULSE): Figure {
  return apply(FREQUENCY, { ton: onTimeUs, toff: offTimeUs, lambda: sparkingShare });
}

/** Mean current of rectangular pulses, A. */
export function meanRectangularCurrent(currentA: Figure, onTimeUs: Figure, sparksKhz: Figure): Figure {
  return apply(MEAN_CURRENT, { I: currentA, ton: onTimeUs, f: sparksKhz });
}
