/** Turns the bytes of a name into text. */
export interface NameDecoder {
  decode(bytes: Uint8Array): string;
}

type Decoder = InstanceType<typeof TextDecoder>;

/** Names of DXF code pages beside the decoder labels of the Encoding standard. */
const CODE_PAGES: Readonly<Record<string, string>> = {
  ansi_874: 'windows-874',
  ansi_932: 'shift_jis',
  ansi_936: 'gbk',
  ansi_949: 'euc-kr',
  ansi_950: 'big5',
  ansi_1250: 'windows-1250',
  ansi_1251: 'windows-1251',
  ansi_1252: 'windows-1252',
  ansi_1253: 'windows-1253',
  ansi_1254: 'windows-1254',
  ansi_1255: 'windows-1255',
  ansi_1256: 'windows-1256',
  ansi_1257: 'windows-1257',
  ansi_1258: 'windows-1258',
  'mac-roman': 'macintosh',
  macintosh: 'macintosh',
  dos866: 'ibm866',
  'utf-8': 'utf-8',
  utf8: 'utf-8',
};

/** Multi-byte sets by the digit in `\M+nXXXX`. */
const MULTI_BYTE_SETS: Readonly<Record<string, string>> = { 1: 'shift_jis', 2: 'big5', 3: 'euc-kr', 5: 'gbk' };

/** True when the code page is one this reader can decode; names in others are read as Western European. */
export function isKnownCodePage(codePage: string): boolean {
  return CODE_PAGES[codePage.trim().toLowerCase()] !== undefined;
}

/**
 * A decoder for names: UTF-8 where the version says so or no code page is given, and the code page otherwise and for
 * bytes that are not UTF-8. Never fails; bytes without a meaning become U+FFFD.
 */
export function nameDecoder(codePage: string | null, isUnicode: boolean): NameDecoder {
  const label = codePage === null ? undefined : CODE_PAGES[codePage.trim().toLowerCase()];
  const fallback = decoderFor(label ?? 'windows-1252');
  const strict = isUnicode || codePage === null ? new TextDecoder('utf-8', { fatal: true }) : null;
  return {
    decode(bytes) {
      return unescapeName(decodeWith(strict, fallback, bytes));
    },
  };
}

function decodeWith(strict: Decoder | null, fallback: Decoder, bytes: Uint8Array): string {
  if (strict === null) return fallback.decode(bytes);
  try {
    return strict.decode(bytes);
  } catch {
    return fallback.decode(bytes);
  }
}

/** A runtime built without the full set of encodings falls back to UTF-8 with replacement characters. */
function decoderFor(label: string): Decoder {
  try {
    return new TextDecoder(label);
  } catch {
    return new TextDecoder('utf-8');
  }
}

/** `\U+XXXX` and `\M+nXXXX` as the characters they stand for. */
export function unescapeName(text: string): string {
  if (!text.includes('\\')) return text;
  return text
    .replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    .replace(/\\M\+([1235])([0-9A-Fa-f]{4})/g, (_, set: string, hex: string) => {
      const pair = Number.parseInt(hex, 16);
      return decoderFor(MULTI_BYTE_SETS[set]!).decode(Uint8Array.of(pair >> 8, pair & 255));
    });
}
