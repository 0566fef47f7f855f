import { apply, defineLaw, type Figure } from '@gapwright/base';
import { GHOSH_MALLIK, IZWAN, KALPAKJIAN, WELLER } from './sources.js';

// Handbook laws for teaching and for checking orders of magnitude. Planning never uses them: against measured burns the
// first one over-predicts tenfold and more, as it knows nothing of on-time and duty.

const CELSIUS = [100, 4000] as const;

const WELLER_LAW = defineLaw({
  id: 'teaching-weller',
  says: 'Order of magnitude only: removal rate from average current and melting point.',
  formula: '664 I / Tm^1.23',
  source: WELLER,
  inputs: { I: { unit: 'A', says: 'average current' }, Tm: { unit: 'degC', says: 'melting point', valid: CELSIUS } },
  output: 'mm3/s',
  evaluate: ({ I, Tm }) => (664 * I) / Tm ** 1.23,
});

const WELLER_INCH = defineLaw({
  id: 'teaching-weller-inch',
  says: 'Order of magnitude only: the same law in inches and °F.',
  formula: '5.08 I / Tm^1.23',
  source: WELLER,
  inputs: {
    I: { unit: 'A', says: 'average current' },
    Tm: { unit: 'degF', says: 'melting point', valid: [212, 7200] },
  },
  output: 'in3/min',
  evaluate: ({ I, Tm }) => (5.08 * I) / Tm ** 1.23,
});

const KALPAKJIAN_LAW = defineLaw({
  id: 'teaching-kalpakjian',
  says: 'Order of magnitude only: removal rate from current and melting point.',
  formula: '40000 I / Tw^1.23',
  source: KALPAKJIAN,
  inputs: { I: { unit: 'A', says: 'average current' }, Tw: { unit: 'degC', says: 'melting point', valid: CELSIUS } },
  output: 'mm3/min',
  evaluate: ({ I, Tw }) => (4e4 * I) / Tw ** 1.23,
});

const CHARGE_LAW = defineLaw({
  id: 'teaching-charge-model',
  says: 'Removal rate from the charge of one pulse and the melting point, at half duty; within about ±55 %.',
  formula: 'Q^1.11 / (10^2.34 Tm^0.537)',
  source: IZWAN,
  inputs: {
    Q: { unit: 'A*us', says: 'charge of a pulse', valid: [260, 980] },
    Tm: { unit: 'degC', says: 'melting point', valid: [580, 1530] },
  },
  output: 'mm3/s',
  scatter: { relative: 0.45, cause: 'teaching-charge' },
  evaluate: ({ Q, Tm }) => Q ** 1.11 / (10 ** 2.34 * Tm ** 0.537),
});

const WIRE_REMOVAL = defineLaw({
  id: 'teaching-wire-removal',
  says: 'Volume a wire removes: feed times height times kerf.',
  formula: 'Vf h b',
  source: KALPAKJIAN,
  inputs: {
    Vf: { unit: 'mm/min', says: 'feed' },
    h: { unit: 'mm', says: 'height' },
    b: { unit: 'mm', says: 'kerf' },
  },
  output: 'mm3/min',
  evaluate: ({ Vf, h, b }) => Vf * h * b,
});

const RC_ENERGY = defineLaw({
  id: 'teaching-rc-energy',
  says: 'Energy a capacitor gives off in one discharge.',
  formula: 'C V² / 2',
  source: GHOSH_MALLIK,
  inputs: { C: { unit: 'uF', says: 'capacitance' }, V: { unit: 'V', says: 'breakdown voltage' } },
  output: 'J',
  evaluate: ({ C, V }) => (C * 1e-6 * V * V) / 2,
});

const RC_TIME = defineLaw({
  id: 'teaching-rc-charging-time',
  says: 'Time to charge a capacitor through a resistor up to the breakdown voltage.',
  formula: 'R C ln(V0 / (V0 − V))',
  source: GHOSH_MALLIK,
  inputs: {
    R: { unit: 'ohm', says: 'charging resistance' },
    C: { unit: 'uF', says: 'capacitance' },
    V0: { unit: 'V', says: 'supply voltage' },
    V: { unit: 'V', says: 'breakdown voltage' },
  },
  output: 's',
  evaluate: ({ R, C, V0, V }) => R * C * 1e-6 * Math.log(V0 / (V0 - V)),
});

const RC_POWER = defineLaw({
  id: 'teaching-rc-power',
  says: 'Mean power of a relaxation circuit: energy of a discharge over the time between discharges.',
  formula: 'E / t',
  source: GHOSH_MALLIK,
  inputs: { E: { unit: 'J', says: 'energy of a discharge' }, t: { unit: 's', says: 'charging time' } },
  output: 'W',
  evaluate: ({ E, t }) => E / t,
});

const RC_REMOVAL = defineLaw({
  id: 'teaching-rc-removal',
  says: 'Removal rate of a relaxation circuit in steel.',
  formula: '27.4 (W / 1000)^1.54',
  source: GHOSH_MALLIK,
  inputs: { W: { unit: 'W', says: 'mean power' } },
  output: 'mm3/min',
  evaluate: ({ W }) => 27.4 * (W / 1000) ** 1.54,
});

const RC_ROUGHNESS = defineLaw({
  id: 'teaching-rc-roughness',
  says: 'Root-mean-square roughness of a relaxation circuit in steel.',
  formula: '1.11 Q^0.384',
  source: GHOSH_MALLIK,
  inputs: { Q: { unit: 'mm3/min', says: 'removal rate' } },
  output: 'um',
  evaluate: ({ Q }) => 1.11 * Q ** 0.384,
});

/** Teaching law, order of magnitude: mm³/s from average current (A) and melting point (°C). */
export function wellerRemoval(currentA: Figure, meltingC: Figure): Figure {
  return apply(WELLER_LAW, { I: currentA, Tm: meltingC });
}

/** Teaching law in inches: in³/min from average current (A) and melting point (°F). */
export function wellerRemovalInch(currentA: Figure, meltingF: Figure): Figure {
  return apply(WELLER_INCH, { I: currentA, Tm: meltingF });
}

/** Teaching law: mm³/min from average current (A) and melting point (°C); the same law as Weller's with rounded constant. */
export function kalpakjianRemoval(currentA: Figure, meltingC: Figure): Figure {
  return apply(KALPAKJIAN_LAW, { I: currentA, Tw: meltingC });
}

/** Teaching law: mm³/s from the charge of a pulse (peak current × on-time, A·µs) and melting point (°C) at half duty. */
export function chargeModelRemoval(chargeAUs: Figure, meltingC: Figure): Figure {
  return apply(CHARGE_LAW, { Q: chargeAUs, Tm: meltingC });
}

/** Teaching law: mm³/min a wire removes. */
export function wireRemoval(feedMmPerMin: Figure, heightMm: Figure, kerfMm: Figure): Figure {
  return apply(WIRE_REMOVAL, { Vf: feedMmPerMin, h: heightMm, b: kerfMm });
}

/** Teaching laws of the relaxation circuit (capacitor charged through a resistor). */
export function relaxationCircuit(circuit: {
  readonly resistanceOhm: Figure;
  readonly capacitanceUf: Figure;
  readonly supplyV: Figure;
  readonly breakdownV: Figure;
}): {
  readonly energyJ: Figure;
  readonly chargingS: Figure;
  readonly powerW: Figure;
  readonly removalMm3PerMin: Figure;
  readonly roughnessUm: Figure;
} {
  const energyJ = apply(RC_ENERGY, { C: circuit.capacitanceUf, V: circuit.breakdownV });
  const chargingS = apply(RC_TIME, {
    R: circuit.resistanceOhm,
    C: circuit.capacitanceUf,
    V0: circuit.supplyV,
    V: circuit.breakdownV,
  });
  const powerW = apply(RC_POWER, { E: energyJ, t: chargingS });
  const removalMm3PerMin = apply(RC_REMOVAL, { W: powerW });
  return { energyJ, chargingS, powerW, removalMm3PerMin, roughnessUm: apply(RC_ROUGHNESS, { Q: removalMm3PerMin }) };
}
