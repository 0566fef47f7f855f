import type { Material } from './shop-book.js';

/** A safety caution for a plan or a traveller. It advises; it never replaces the manual of the machine. */
export interface Caution {
  readonly id: string;
  readonly title: string;
  /** What to do, in one to three sentences. */
  readonly text: string;
  /** When it belongs on the paper: with every job of a process, or with materials that name it. */
  readonly applies: 'every job' | 'wire' | 'drill' | 'oil dielectric' | 'unattended' | 'heavy slug' | 'material';
  readonly standing: 'published' | 'from memory' | 'common practice';
}

/** Stands above every list of cautions. */
export const CAUTION_LEAD =
  "These are reminders, not instructions. The machine maker's manual, local codes and the rules of licensed practice come first.";

const list: readonly Caution[] = [
  {
    id: 'shock',
    title: 'Voltage at wire and work',
    text: 'Open voltage at the wire or electrode is 60 to 300 V DC. Touch neither wire, work nor table while power is on; keep doors interlocked and the work bonded. Work on the electrics belongs to licensed electricians.',
    applies: 'every job',
    standing: 'from memory',
  },
  {
    id: 'fume',
    title: 'Fume and mist',
    text: 'Sparks make metal particles mostly below 100 nm and mist. Run the extraction at the tank and keep it maintained.',
    applies: 'every job',
    standing: 'published',
  },
  {
    id: 'hydrogen',
    title: 'Hydrogen',
    text: 'Sparks and electrolysis split water into hydrogen and oxygen (explosive from 4 % by volume). Keep tanks and closed pockets of the work vented.',
    applies: 'every job',
    standing: 'from memory',
  },
  {
    id: 'fields',
    title: 'Magnetic fields',
    text: 'Pulse currents reach many hundred amperes. People with pacemakers or implants keep away unless cleared for this place.',
    applies: 'every job',
    standing: 'from memory',
  },
  {
    id: 'handling',
    title: 'Slugs, wire scrap and floor',
    text: 'Freed slugs and parts drop; scrap wire is sharp; the floor near the tank is slippery. Wear gloves and safety shoes and secure pieces before they come free.',
    applies: 'every job',
    standing: 'common practice',
  },
  {
    id: 'waste',
    title: 'Waste',
    text: 'Resin, filters and sludge are hazardous by what they hold. Collect and log them by material and follow local waste rules.',
    applies: 'every job',
    standing: 'common practice',
  },
  {
    id: 'magnetised-work',
    title: 'Magnetised work',
    text: 'Debris clings to magnetised work and shorts the gap. Demagnetise ground plates before burning.',
    applies: 'wire',
    standing: 'common practice',
  },
  {
    id: 'pressure',
    title: 'High-pressure fluid',
    text: 'Hole drilling pumps fluid at 30 to 100 bar: injection injury, whipping tube. Keep the guard closed.',
    applies: 'drill',
    standing: 'common practice',
  },
  {
    id: 'oil-fire',
    title: 'Oil fire',
    text: 'Keep oil well above the highest spark (about 40 mm, more at high power), level and temperature interlocks and the extinguisher in order; never spark in a free jet of oil.',
    applies: 'oil dielectric',
    standing: 'from memory',
  },
  {
    id: 'unattended',
    title: 'Unattended running',
    text: 'Before leaving: fluid level and temperature guards, extinguishing system, short-circuit and depth limits set, wire left on the spool for the whole run.',
    applies: 'unattended',
    standing: 'common practice',
  },
  {
    id: 'heavy-slug',
    title: 'Heavy slug',
    text: 'Support or clamp the slug before the tab is cut, and lift it with two hands or a hoist. It must not fall on the lower guide or on feet.',
    applies: 'heavy slug',
    standing: 'common practice',
  },
  {
    id: 'reactive-fines',
    title: 'Fines that burn or react with water',
    text: 'Fine swarf of titanium, aluminium, zirconium or magnesium can burn and sets hydrogen free from water. Keep it wet, in separate filters, away from steel dust, and follow the fire code for combustible metals.',
    applies: 'material',
    standing: 'from memory',
  },
  {
    id: 'magnesium',
    title: 'Magnesium',
    text: 'Do not burn magnesium in water without a written procedure for it.',
    applies: 'material',
    standing: 'from memory',
  },
  {
    id: 'cobalt',
    title: 'Cobalt',
    text: 'Cobalt leaches into the water; carbide dust with cobalt is a suspected carcinogen. Wear gloves, watch conductivity, exchange the resin in time.',
    applies: 'material',
    standing: 'from memory',
  },
  {
    id: 'beryllium',
    title: 'Beryllium',
    text: 'Beryllium particles harm the lungs at very low amounts. Burn wet and extracted, never dry-clean, keep the sludge apart; workplace limits and medical surveillance apply by law.',
    applies: 'material',
    standing: 'from memory',
  },
  {
    id: 'chromium-nickel',
    title: 'Chromium and nickel',
    text: 'Fume and sludge can hold hexavalent chromium and nickel. Extract, avoid skin contact, keep food away.',
    applies: 'material',
    standing: 'from memory',
  },
  {
    id: 'graphite-dust',
    title: 'Graphite dust',
    text: 'Graphite dust conducts and creeps into electrics. Burn wet, extract, clean often.',
    applies: 'material',
    standing: 'common practice',
  },
];

const byId = new Map(list.map((caution) => [caution.id, Object.freeze(caution)]));

/** All cautions, the general ones first. */
export function allCautions(): readonly Caution[] {
  return [...byId.values()];
}

/** A caution by its id. */
export function cautionById(id: string): Caution | undefined {
  return byId.get(id);
}

/** What a plan does that calls for cautions. */
export interface CautionOccasion {
  readonly process: 'wire' | 'drill' | 'sink';
  readonly material: Pick<Material, 'cautions'>;
  /** Burns while nobody is there. */
  readonly unattended: boolean;
  /** A slug or part heavy enough to need support comes free. */
  readonly heavySlug: boolean;
  /** Oil instead of water in the tank. */
  readonly oil: boolean;
}

/** The cautions that belong to an operation, general ones first; print them under {@link CAUTION_LEAD}. */
export function cautionsFor(occasion: CautionOccasion): readonly Caution[] {
  return allCautions().filter((caution) => belongsTo(caution, occasion));
}

function belongsTo(caution: Caution, occasion: CautionOccasion): boolean {
  switch (caution.applies) {
    case 'every job':
      return true;
    case 'wire':
    case 'drill':
      return occasion.process === caution.applies;
    case 'unattended':
      return occasion.unattended;
    case 'heavy slug':
      return occasion.heavySlug;
    case 'oil dielectric':
      return occasion.oil;
    case 'material':
      return occasion.material.cautions.includes(caution.id);
  }
}
