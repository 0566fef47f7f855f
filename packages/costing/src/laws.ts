import { BY_DEFINITION, defineLaw, defineSource } from '@gapwright/base';

/** How the shop turns hours and kilograms into money. */
const COST_PRACTICE = defineSource({
  id: 'job-costing-practice',
  title: 'Job costing as commonly done in contract shops: time times rate, material, share of set-up, expected scrap',
  standing: 'common practice',
});

export const costOfTime = defineLaw({
  id: 'cost-of-time',
  says: 'Time for one run, times the runs, times the hourly rate.',
  formula: 'minutes / 60 * runs * rate',
  source: BY_DEFINITION,
  inputs: {
    minutes: { unit: 'min', says: 'time for one run' },
    runs: { unit: '1', says: 'runs' },
    rate: { unit: 'EUR/h', says: 'hourly rate' },
  },
  output: 'EUR',
  evaluate: ({ minutes, runs, rate }) => (minutes / 60) * runs * rate,
});

export const machineOccupied = defineLaw({
  id: 'machine-occupied',
  says: 'A machine is occupied while it burns and while somebody sets up or serves it.',
  formula: 'machine + attended',
  source: COST_PRACTICE,
  inputs: {
    machine: { unit: 'min', says: 'running by itself' },
    attended: { unit: 'min', says: 'attended' },
  },
  output: 'min',
  evaluate: ({ machine, attended }) => machine + attended,
});

export const costOfMass = defineLaw({
  id: 'cost-of-mass',
  says: 'Mass for one run, times the runs, times the price per kilogram.',
  formula: 'mass * runs * price',
  source: BY_DEFINITION,
  inputs: {
    mass: { unit: 'kg', says: 'mass for one run' },
    runs: { unit: '1', says: 'runs' },
    price: { unit: 'EUR/kg', says: 'price' },
  },
  output: 'EUR',
  evaluate: ({ mass, runs, price }) => mass * runs * price,
});

export const plateMass = defineLaw({
  id: 'plate-mass',
  says: 'Mass of the stock plates of one run.',
  formula: 'length * width * height * stack * density / 1e6',
  source: BY_DEFINITION,
  inputs: {
    length: { unit: 'mm', says: 'plate length' },
    width: { unit: 'mm', says: 'plate width' },
    height: { unit: 'mm', says: 'height of one plate' },
    stack: { unit: '1', says: 'plates in the stack' },
    density: { unit: 'g/cm3', says: 'density' },
  },
  output: 'kg',
  evaluate: ({ length, width, height, stack, density }) => (length * width * height * stack * density) / 1e6,
});

export const programmingTime = defineLaw({
  id: 'programming-time',
  says: 'Programming once for the job: a base and a share per feature.',
  formula: 'base + perFeature * features',
  source: COST_PRACTICE,
  inputs: {
    base: { unit: 'min', says: 'base' },
    perFeature: { unit: 'min', says: 'per feature' },
    features: { unit: '1', says: 'features' },
  },
  output: 'min',
  evaluate: ({ base, perFeature, features }) => base + perFeature * features,
});

export const expectedScrap = defineLaw({
  id: 'expected-scrap',
  says: 'To ship n good pieces, n / (1 - scrap) are made; the extra pieces cost what the good ones cost.',
  formula: 'cost * scrap / (1 - scrap)',
  source: COST_PRACTICE,
  inputs: {
    cost: { unit: 'EUR', says: 'cost of making the pieces' },
    scrap: { unit: '1', says: 'expected share of scrapped pieces' },
  },
  output: 'EUR',
  evaluate: ({ cost, scrap }) => (cost * scrap) / (1 - scrap),
});

export const costPerPiece = defineLaw({
  id: 'cost-per-piece',
  says: 'The whole cost shared by the pieces.',
  formula: 'total / pieces',
  source: BY_DEFINITION,
  inputs: { total: { unit: 'EUR', says: 'whole cost' }, pieces: { unit: '1', says: 'pieces' } },
  output: 'EUR',
  evaluate: ({ total, pieces }) => total / pieces,
});

export const expectedCost = defineLaw({
  id: 'expected-cost-per-piece',
  says: 'The mean over all draws: above the median, because long burns cost more than short ones save.',
  formula: 'median * meanOverMedian',
  source: BY_DEFINITION,
  inputs: {
    median: { unit: 'EUR', says: 'median cost per piece' },
    meanOverMedian: { unit: '1', says: 'mean of the draws over the median figure' },
  },
  output: 'EUR',
  decides: true,
  evaluate: ({ median, meanOverMedian }) => median * meanOverMedian,
});

/** A price that is full cents but for rounding of its sums is not raised by a cent. */
const ROUNDING_CENTS = 1e-6;

export const priceFromMargin = defineLaw({
  id: 'price-from-margin',
  says: 'The price at which the expected cost leaves the shop’s margin, and the order reaches the smallest order value; up to the full cent, so that price times pieces is the order.',
  formula: 'ceil(100 max(expected / (1 - margin), minimumOrder / pieces)) / 100',
  source: COST_PRACTICE,
  inputs: {
    expected: { unit: 'EUR', says: 'expected cost per piece' },
    margin: { unit: '1', says: 'share of the price kept as margin' },
    minimumOrder: { unit: 'EUR', says: 'smallest order value' },
    pieces: { unit: '1', says: 'pieces' },
  },
  output: 'EUR',
  decides: true,
  evaluate: ({ expected, margin, minimumOrder, pieces }) =>
    Math.ceil(100 * Math.max(expected / (1 - margin), minimumOrder / pieces) - ROUNDING_CENTS) / 100,
});

export const lossRiskOf = defineLaw({
  id: 'loss-risk',
  says: 'Share of the draws in which one piece costs more than its price.',
  formula: 'share of draws with cost > price',
  source: BY_DEFINITION,
  inputs: {
    cost: { unit: 'EUR', says: 'cost per piece' },
    price: { unit: 'EUR', says: 'price per piece' },
    share: { unit: '1', says: 'counted share of draws' },
  },
  output: '1',
  decides: true,
  evaluate: ({ share }) => share,
});

export const priceAtRiskOf = defineLaw({
  id: 'price-at-risk',
  says: 'The price that only the stated share of the draws exceeds.',
  formula: 'quantile of cost at 1 - risk = median * quantileOverMedian',
  source: BY_DEFINITION,
  inputs: {
    median: { unit: 'EUR', says: 'median cost per piece' },
    quantileOverMedian: { unit: '1', says: 'quantile of the draws over the median figure' },
  },
  output: 'EUR',
  decides: true,
  evaluate: ({ median, quantileOverMedian }) => median * quantileOverMedian,
});

export const savingRatio = defineLaw({
  id: 'saving-ratio',
  says: 'Share saved against the present plan; both are planned to the end.',
  formula: '1 - changed / present',
  source: BY_DEFINITION,
  inputs: {
    changed: { unit: 'EUR', says: 'price with the change' },
    present: { unit: 'EUR', says: 'price as asked' },
  },
  output: '1',
  evaluate: ({ changed, present }) => 1 - changed / present,
});

export const orderValueOf = defineLaw({
  id: 'order-value',
  says: 'Price per piece times the pieces.',
  formula: 'price * pieces',
  source: BY_DEFINITION,
  inputs: { price: { unit: 'EUR', says: 'price per piece' }, pieces: { unit: '1', says: 'pieces' } },
  output: 'EUR',
  evaluate: ({ price, pieces }) => price * pieces,
});
