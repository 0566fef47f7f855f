import { describe, expect, test } from 'vitest';
import { incomingFile, LONGEST_ENQUIRY, titleFromFile, titleFromText } from './incoming.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('what a file is for the desk', () => {
  test.each([
    ['plate.dxf', '0\nSECTION', 'drawing'],
    ['PLATE.DXF', '0\nSECTION', 'drawing'],
    ['block.STEP', 'ISO-10303-21;', 'solid'],
    ['block.stl', 'solid x', 'solid'],
    ['enquiry.txt', 'Please quote', 'enquiry'],
    ['no ending', '  0\r\nSECTION\r\n', 'drawing'],
    ['odd.out', '999\nmade by hand\n  0\nSECTION\n', 'drawing'],
    ['plan.pdf', '%PDF', 'refused'],
    ['plan.dwg', 'AC1032', 'refused'],
    ['thing.bin', 'abc', 'refused'],
    ['empty.dxf', '', 'refused'],
  ])('%s', (name, text, kind) => {
    expect(incomingFile(name, bytes(text)).kind).toBe(kind);
  });

  test('a refusal says what to do', () => {
    const refused = incomingFile('plan.pdf', bytes('%PDF'));
    expect(refused).toMatchObject({ because: expect.stringContaining('Ask the customer for the DXF') });
    expect(incomingFile('a.txt', bytes('x'.repeat(LONGEST_ENQUIRY + 1))).kind).toBe('refused');
  });
});

describe('titles', () => {
  test('from a file name', () => {
    expect(titleFromFile('gear_pump__rotor.dxf')).toBe('gear pump rotor');
    expect(titleFromFile('.dxf')).toBe('.dxf');
  });

  test('from a text: subject line, else the first line that says something', () => {
    expect(titleFromText('From: a@b\nSubject: Spline coupling, 4 off\n\nHello')).toBe('Spline coupling, 4 off');
    expect(titleFromText('Dear all,\n\nplease quote two punches')).toBe('please quote two punches');
    expect(titleFromText('--\n')).toBe('Enquiry');
    expect(titleFromText('word '.repeat(40)).length).toBeLessThanOrEqual(81);
  });
});
