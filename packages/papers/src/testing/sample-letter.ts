import type { LetterData } from '../letter-data.js';
import { SAMPLE_QUOTATION } from './sample-data.js';

const { drivers, assumptions, problems, asks, terms, prices, delivery, ...rest } = SAMPLE_QUOTATION;

/** The letter to the customer of the sample quotation. */
export const SAMPLE_LETTER: LetterData = {
  ...rest,
  validUntil: '2026-12-24',
  quantity: 5,
  unitPrice: 912.8,
  drawing: {
    ...rest.drawing!,
    places: [
      { at: { x: -2, y: 10.5 }, label: '(1)' },
      { at: { x: 2, y: 10.5 } },
      { at: { x: 8.5, y: -15 }, label: '(2)' },
    ],
  },
  places: [
    { label: '(1)', says: '2 corners drawn sharp' },
    { label: '(2)', says: '1 corner of R 0.12 mm' },
  ],
  changes: [
    {
      title: 'Coarser surface',
      says: 'A surface of Ra 0.8 µm in place of Ra 0.6 µm.',
      because: 'Less finishing is then enough.',
      check: 'the surfaces that slide, seal or are seen.',
      unitPrice: 814.4,
      places: [],
    },
    {
      title: 'Larger inside corners',
      says: 'Inside corners smaller than R 0.20 mm may keep R 0.20 mm.',
      because: 'A thicker wire then reaches into them and cuts faster.',
      check: 'that the mating part clears R 0.20 mm in these corners, or that they only give room.',
      unitPrice: 851.7,
      places: ['(1)', '(2)'],
    },
    {
      title: 'Larger order',
      says: 'One order of 20 in place of 5.',
      because: 'Setting up is then shared by more parts.',
      check: 'that you need them all to this revision of the drawing, delivered together.',
      unitPrice: 846.15,
      quantity: 20,
      places: [],
    },
  ],
};
