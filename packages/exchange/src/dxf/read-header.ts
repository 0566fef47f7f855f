import { isKnownCodePage } from './encoding.js';
import type { Notes } from './notes.js';
import { Refusal } from './refusal.js';
import type { TagSource } from './tag-source.js';
import { printable } from './text-tags.js';

/** The header variables that matter here; null where the file does not say. */
export interface DxfHeader {
  version: string | null;
  codePage: string | null;
  insertUnits: number | null;
  measurement: number | null;
}

/** From this version on (2007) text is UTF-8 whatever the code page says. */
const FIRST_UNICODE_VERSION = 'AC1021';

/** Reads the HEADER section up to its ENDSEC and sets the stream's encoding. */
export function readHeader(tags: TagSource, header: DxfHeader, notes: Notes): void {
  let variable = '';
  for (;;) {
    if (!tags.next()) {
      throw new Refusal(
        'DXF-TRUNCATED',
        'The file ends inside the HEADER section, without the closing EOF: it is cut off',
        'Export or send the drawing again',
        tags.place(tags.position),
      );
    }
    if (tags.code === 0) break;
    if (tags.code === 9) variable = tags.word();
    else if (variable === '$ACADVER' && tags.code === 1) header.version = tags.word();
    else if (variable === '$DWGCODEPAGE' && tags.code === 3) header.codePage = tags.word();
    else if (variable === '$INSUNITS' && tags.code === 70) header.insertUnits = wholeNumber(tags, variable);
    else if (variable === '$MEASUREMENT' && tags.code === 70) header.measurement = wholeNumber(tags, variable);
  }
  const { version, codePage } = header;
  const isUnicode = version !== null && version >= FIRST_UNICODE_VERSION;
  if (version !== null && !/^AC\d{4}$/.test(version)) {
    notes.add(
      'DXF-VERSION-UNKNOWN',
      'info',
      `The header gives the version "${printable(version)}", which is none this reader knows`,
      'Nothing to do if the contours look right',
      tags.place(tags.position),
    );
  }
  if (!isUnicode && codePage !== null && !isKnownCodePage(codePage)) {
    notes.add(
      'DXF-CODE-PAGE-UNKNOWN',
      'info',
      `Layer names are written in the code page "${printable(codePage)}"; they are read as Western European`,
      'Nothing to do if the layer names look right',
      tags.place(tags.position),
    );
  }
  tags.setEncoding(codePage, isUnicode);
}

function wholeNumber(tags: TagSource, variable: string): number {
  const value = tags.real();
  if (Number.isInteger(value)) return value;
  throw new Refusal(
    'DXF-BAD-NUMBER',
    `${variable} on ${tags.where(tags.position)} must be a whole number, but is "${printable(tags.word().slice(0, 40))}"`,
    'Correct the number or export the drawing again',
    tags.place(tags.position),
  );
}
