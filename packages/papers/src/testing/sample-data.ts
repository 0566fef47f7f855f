import { problem } from '@gapwright/base';
import type { PaperHead, PaperPart } from '../paper-head.js';
import type { QuotationData } from '../quotation-data.js';
import type { RouteCardData } from '../route-card-data.js';
import type { SetUpSheetData } from '../set-up-sheet-data.js';
import { type Spread, sure } from '../spread.js';
import { SAMPLE_DRAWING, SAMPLE_OFFSETS_MM, SAMPLE_PLATE, SAMPLE_START_HOLES } from './sample-drawing.js';

/** A spread with the same factor up and down, as figures have. */
const about = (value: number, factor: number): Spread => ({ value, low: value / factor, high: value * factor });

const HEAD: PaperHead = {
  shop: {
    name: 'Kerf & Co. Spark Erosion',
    lines: ['Millrace 14, 8400 Winterbridge', '+00 52 555 01 40', 'planning@kerf-and-co.example'],
  },
  date: '2026-11-25',
  jobNumber: 'E-2611-047',
  lengthUnit: 'mm',
  invented: true,
  standing:
    'Starting values from published ranges and common practice; no burns of this shop yet. Ranges hold four times out of five.',
  bookVersion: '0.1.0',
};

const PART: PaperPart = {
  name: 'Indexing wheel, 20 teeth',
  drawingFile: 'indexing-wheel.dxf',
  revision: 'C',
  material: 'D2 tool steel, hardened 60 HRC',
  heightMm: 25,
  toleranceMm: 0.008,
  raUm: 0.6,
  recastMaxUm: 4,
  agreedCornerRadiusMm: 0.15,
};

/** A quotation for an invented customer. */
export const SAMPLE_QUOTATION: QuotationData = {
  ...HEAD,
  customer: {
    name: 'Aldermoor Packaging Machines',
    contact: 'Ms R. Okafor, purchasing',
    lines: ['Canal Street 3', '8005 Lindenport'],
  },
  validUntil: '2026-12-24',
  currency: 'EUR',
  part: PART,
  drawing: { contours: SAMPLE_DRAWING.contours },
  prices: [
    { quantity: 1, unitPrice: 1234.5, totalPrice: 1234.5 },
    { quantity: 5, unitPrice: 912.8, totalPrice: 4564 },
    { quantity: 20, unitPrice: 846.15, totalPrice: 16923 },
    { quantity: 50, unitPrice: 831.9, totalPrice: 41595 },
  ],
  delivery: 'Four weeks from order and receipt of the hardened plates.',
  drivers: [
    {
      says: 'Ra 0.8 µm in place of 0.6 µm needs three passes instead of four',
      priceChange: -98.4,
      relativeChange: -0.108,
    },
    {
      says: 'Inside corners of R 0.20 mm in place of R 0.15 mm allow the 0.30 mm wire for the roughing pass',
      priceChange: -61.1,
      relativeChange: -0.067,
    },
    { says: 'A tolerance of ±0.005 mm in place of ±0.008 mm adds a pass', priceChange: 112.3, relativeChange: 0.123 },
  ],
  assumptions: [
    'Plates arrive hardened, ground on both faces, parallel within 0.01 mm, with start holes drilled by us.',
    'Sharp inside corners may keep R 0.15 mm.',
    'Inspection of the tooth profile on five teeth; report included.',
  ],
  problems: [
    problem({
      code: 'WIRE-CORNER-LEFT',
      severity: 'warn',
      what: 'Two inside corners of the keyway are drawn sharp; the 0.25 mm wire leaves R 0.137 mm',
      fix: 'Accept R 0.15 mm, or ask for the 0.10 mm wire (+62 % burning time)',
      at: { feature: 'F2', xMm: -2, yMm: 10.5 },
    }),
    problem({
      code: 'DXF-NO-UNITS',
      severity: 'info',
      what: 'The drawing file names no unit; mm was taken from the size on the title block',
      at: { file: 'indexing-wheel.dxf' },
    }),
  ],
  asks: [
    'May the keyway corners keep R 0.15 mm?',
    'Is the recast layer of 4 µm needed on the bore, or only on the teeth?',
  ],
  terms: [
    'Prices exclude value added tax and packing.',
    'Payment within 30 days of invoice.',
    'Material supplied by the customer is returned as it is when a part is scrapped by a fault in it.',
  ],
};

/** The same with what only the shop may see. */
export const SAMPLE_INTERNAL_QUOTATION: QuotationData = {
  ...SAMPLE_QUOTATION,
  internal: {
    lines: [
      { title: 'Wire machine, 8.1 h', costPerPart: about(427.4, 1.21) },
      { title: 'Attended work', costPerPart: about(131.2, 1.12) },
      { title: 'Wire', costPerPart: about(58.6, 1.2) },
      { title: 'Start holes', costPerPart: about(36, 1.3) },
    ],
    byQuantity: [
      { quantity: 1, costPerPart: about(905.1, 1.18), marginRatio: 0.364, lossRisk: 0.03 },
      { quantity: 5, costPerPart: about(693.3, 1.17), marginRatio: 0.317, lossRisk: 0.05 },
    ],
  },
};

/** A set-up sheet for the wire operation of the same part. */
export const SAMPLE_SET_UP_SHEET: SetUpSheetData = {
  ...HEAD,
  jobNumber: 'J-2612-003',
  part: PART,
  quantity: 5,
  operation: {
    number: 20,
    title: 'Wire cut teeth, bore and slot',
    runs: 5,
    machineMin: about(486, 1.21),
    attendedMin: about(62, 1.15),
    unattendedMin: about(401, 1.22),
  },
  machine: { id: 'W3', name: 'Wire machine 3 (invented)' },
  wire: { id: 'B25', diameterMm: 0.25, kind: 'brass', useM: about(4374, 1.21), useKg: about(1.82, 1.21) },
  stack: 1,
  burnHeightMm: 25,
  plate: SAMPLE_PLATE,
  datum: 'X0 Y0 is the middle of the wheel; find it from the ground left and lower edges (45.000 and 38.000 mm).',
  drawing: SAMPLE_DRAWING,
  startHoles: SAMPLE_START_HOLES,
  passes: [
    { levelName: 'rough', gap: 0.038, feed: 2.15, ra: 2.9, burn: 181.4 },
    { levelName: 'skim 1', gap: 0.018, feed: 5.4, ra: 1.4, burn: 72.2 },
    { levelName: 'skim 2', gap: 0.012, feed: 6.1, ra: 0.85, burn: 63.9 },
    { levelName: 'skim 3', gap: 0.012, feed: 4.75, ra: 0.55, burn: 82.1 },
  ].map((p, i) => ({
    pass: i + 1,
    level: i + 1,
    levelName: p.levelName,
    register: i + 1,
    offsetMm: about(SAMPLE_OFFSETS_MM[i]!, 1.02),
    gapMm: about(p.gap, 1.15),
    feedMmPerMin: about(p.feed, 1.22),
    raUm: about(p.ra, 1.18),
    burnMin: about(p.burn, 1.24),
  })),
  work: [
    {
      kind: 'touch',
      says: 'Clamp the plate, align to 0.005 mm over its length, find zero from two edges',
      min: about(28, 1.2),
    },
    { kind: 'touch', says: 'Fill, check the dielectric level over the plate, thread at H1', min: about(6, 1.2) },
    { kind: 'burn', says: 'F2 bore: pass 1 to the tab', min: about(38, 1.24) },
    { kind: 'touch', says: 'Slug of F2: support it, cut the tab, take the slug out', min: about(7, 1.3) },
    { kind: 'burn', says: 'F2 bore: passes 2 to 4', min: about(49, 1.24) },
    { kind: 'burn', says: 'F3 slot from H2: pass 1; slug falls free into the tray', min: about(21, 1.24) },
    { kind: 'burn', says: 'F3 slot: passes 2 to 4', min: about(31, 1.24) },
    { kind: 'burn', says: 'F1 teeth from H3: passes 1 to 4 but for the tab', min: about(251, 1.24) },
    { kind: 'touch', says: 'Part F1: support it, cut the tab, take the part out', min: about(12, 1.3) },
    { kind: 'touch', says: 'Drain, clean, check the tooth gauge size', min: about(9, 1.2) },
  ],
  slugs: [
    { feature: 'F2', piece: 'slug', massG: about(40.3, 1.01), handling: 'tab and support', tabMm: sure(2.8) },
    { feature: 'F3', piece: 'slug', massG: about(15.6, 1.01), handling: 'falls free', tabMm: null },
    { feature: 'F1', piece: 'part', massG: about(352, 1.01), handling: 'tab and support', tabMm: sure(0.9) },
  ],
  program: {
    fileName: 'J-2612-003-20.nc',
    sha256: '9f2c1b7e4d0a8835c6e1f4a90b7d2e63580c1f9ad4be7720e3a6c5d81f0b942d',
    lines: 412,
  },
  proof: {
    verdict: 'passed',
    largestUndercutMm: 0.0021,
    undercutAt: { x: 24.412, y: 3.107 },
    largestRestMm: 0.0034,
    restAt: { x: -2, y: 10.5 },
    says: ['The program text was read back and the stock eroded with it: nothing gouged, dropped or hit.'],
  },
  cautions: [
    'Cutting voltage on wire and plate: doors closed, hands out of the tank while the generator is on.',
    'Dielectric must cover the plate before the first spark and stay above it.',
    'Run the extraction: vapour and resin dust are breathed in otherwise.',
    'Slugs up to 352 g: never let one fall on the lower guide.',
    'D2 holds chromium: treat sludge and filters as special waste, wear gloves.',
  ],
};

/** The route of the same job. */
export const SAMPLE_ROUTE_CARD: RouteCardData = {
  ...HEAD,
  jobNumber: 'J-2612-003',
  part: PART,
  quantity: 5,
  customer: 'Aldermoor Packaging Machines',
  due: '2026-12-21',
  operations: [
    {
      number: 10,
      title: 'Drill start holes H1, H2, H3',
      machine: 'D1  Hole drill 1 (invented)',
      runs: 5,
      machineMin: about(11, 1.3),
      attendedMin: about(9, 1.2),
    },
    {
      number: 20,
      title: 'Wire cut teeth, bore and slot',
      machine: 'W3  Wire machine 3 (invented)',
      runs: 5,
      machineMin: about(486, 1.21),
      attendedMin: about(62, 1.15),
      touches: ['Set up', 'Slug of F2', 'Part F1', 'Unload and check'],
      program: 'J-2612-003-20.nc',
    },
    {
      number: 30,
      title: 'Clean and deburr',
      machine: 'Bench',
      runs: 5,
      machineMin: sure(0),
      attendedMin: about(12, 1.25),
    },
    {
      number: 40,
      title: 'Inspect five teeth, bore, slot',
      machine: 'Bench',
      runs: 1,
      machineMin: sure(0),
      attendedMin: about(55, 1.2),
    },
  ],
  totals: {
    burnMin: about(1998, 1.22),
    machineMin: about(2485, 1.2),
    attendedMin: about(470, 1.12),
    touches: sure(20),
  },
};
