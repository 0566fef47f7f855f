/** What a file that was dropped, chosen or pasted is for the desk. */
export type Incoming =
  | { readonly kind: 'drawing'; readonly fileName: string; readonly bytes: Uint8Array }
  | { readonly kind: 'solid'; readonly fileName: string; readonly bytes: Uint8Array }
  | { readonly kind: 'enquiry'; readonly fileName: string; readonly text: string }
  | { readonly kind: 'refused'; readonly fileName: string; readonly because: string };

/** Largest file taken, bytes: well above any drawing of a wire job; a browser tab holds a few of these at once. */
const LARGEST_FILE_BYTES = 200 * 1024 * 1024;
/** Longest enquiry text that is kept, letters; the limit of the job's schema. */
export const LONGEST_ENQUIRY = 20_000;
/** Longest title and file name that are kept, letters; the limits of the schemas. */
const LONGEST_TITLE = 200;
const LONGEST_FILE_NAME = 255;

/** Why a known kind of file is not taken, and what to ask for. */
const REFUSED: readonly (readonly [RegExp, string])[] = [
  [/\.dwg$/i, 'DWG is not read. Save the drawing as DXF and drop that.'],
  [/\.(pdf|png|jpe?g|tiff?|bmp|gif|webp|heic)$/i, 'A picture holds no exact contours. Ask the customer for the DXF.'],
  [/\.(igs|iges|3mf|obj)$/i, 'This kind of model is not read. Ask for DXF, STEP or STL.'],
  [/\.(zip|7z|rar|gz|tar)$/i, 'Unpack it and drop the drawings themselves.'],
  [
    /\.(docx?|xlsx?|csv|msg|eml)$/i,
    'Copy the text of the enquiry and paste it on the desk; drop its drawings as files.',
  ],
];

function baseName(fileName: string): string {
  return fileName.replace(/\.[^.]+$/, '');
}

function startOf(bytes: Uint8Array): string {
  return new TextDecoder('latin1').decode(bytes.subarray(0, 400));
}

/** What a file is, by its name and, where the name does not say, by how it begins. */
export function incomingFile(givenName: string, bytes: Uint8Array): Incoming {
  const fileName = givenName.slice(-LONGEST_FILE_NAME);
  if (bytes.byteLength === 0) return { kind: 'refused', fileName, because: 'The file is empty. Fetch it again.' };
  if (bytes.byteLength > LARGEST_FILE_BYTES)
    return {
      kind: 'refused',
      fileName,
      because: `It has ${Math.round(bytes.byteLength / 1048576)} MB; up to 200 MB are taken. Ask for the drawing without pictures.`,
    };
  if (/\.dxf$/i.test(fileName)) return { kind: 'drawing', fileName, bytes };
  if (/\.(stp|step|stl)$/i.test(fileName)) return { kind: 'solid', fileName, bytes };
  const because = REFUSED.find(([name]) => name.test(fileName))?.[1];
  if (because !== undefined) return { kind: 'refused', fileName, because };
  const start = startOf(bytes);
  if (/^\s*(999[\s\S]*?\n\s*)?0\r?\n\s*SECTION/.test(start))
    return { kind: 'drawing', fileName: `${fileName}.dxf`.slice(-LONGEST_FILE_NAME), bytes };
  if (/\.(txt|text|md)$/i.test(fileName) || (!fileName.includes('.') && !start.includes('\0'))) {
    const text = new TextDecoder().decode(bytes);
    if (text.length <= LONGEST_ENQUIRY) return { kind: 'enquiry', fileName, text };
    return { kind: 'refused', fileName, because: 'The text is too long for an enquiry. Paste the part that matters.' };
  }
  return { kind: 'refused', fileName, because: 'This is no drawing we can read. Drop a DXF, STEP or STL file.' };
}

/** Title of an enquiry that came as a file. */
export function titleFromFile(fileName: string): string {
  return (
    baseName(fileName)
      .replaceAll(/[_\s]+/g, ' ')
      .trim()
      .slice(0, LONGEST_TITLE) || fileName
  );
}

/** Title of an enquiry that came as text: its subject line, or the first line that says something. */
export function titleFromText(text: string): string {
  const lines = text.split(/\r?\n/).map((line) => line.trim());
  const subject = lines.find((line) => /^(subject|betreff|objet|asunto|re)\s*:/i.test(line));
  const first =
    subject?.replace(/^\w+\s*:\s*/, '') ??
    lines.find(
      (line) =>
        /\p{L}{3}/u.test(line) &&
        !/^(from|to|cc|date|sent)\s*:/i.test(line) &&
        !/^(dear|hello|hi|good (morning|day|afternoon))\b/i.test(line),
    );
  if (first === undefined || first === '') return 'Enquiry';
  return first.length <= 80 ? first : `${first.slice(0, 79).replace(/\s+\S*$/, '')} …`;
}
