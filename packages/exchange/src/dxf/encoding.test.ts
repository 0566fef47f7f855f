import { describe, expect, it } from 'vitest';
import { fixtureBytes } from '../testing/fixtures.js';
import { nameDecoder, unescapeName } from './encoding.js';
import { readDxf } from './read-dxf.js';

describe('names', () => {
  it.each([
    ['ANSI_1252', false, [0xc4, 0xf6], 'Äö'],
    ['ANSI_1251', false, [0xd0, 0xe5, 0xe7], 'Рез'],
    ['ANSI_932', false, [0x90, 0xd8, 0x92, 0x66], '切断'],
    ['ANSI_1252', true, [0xc3, 0xa4], 'ä'],
    // Not UTF-8 although the version asks for it: the code page helps out.
    ['ANSI_1252', true, [0x41, 0xe4], 'Aä'],
    [null, false, [0xe4], 'ä'],
    ['NO-SUCH-PAGE', false, [0xe4], 'ä'],
  ])('decodes %s (unicode %s) %j as %s', (codePage, isUnicode, bytes, expected) => {
    expect(nameDecoder(codePage, isUnicode).decode(Uint8Array.from(bytes))).toBe(expected);
  });

  it('takes escapes apart', () => {
    expect(unescapeName('\\U+039B\\U+0391 \\M+190D8 \\Uxyz')).toBe('ΛΑ 切 \\Uxyz');
  });
});

describe('binary files', () => {
  it('give the same lines with one-byte and two-byte group codes', () => {
    const shape = (file: string) =>
      readDxf(fixtureBytes(file)).value!.entities.map((e) => (e.kind === 'line' ? [e.from, e.to] : e.kind));
    const r12 = shape('ezdxf/bin_dxf_r12.dxf');
    expect(r12).toHaveLength(3);
    expect(shape('ezdxf/bin_dxf_r13.dxf')).toEqual(r12);
  });
});
