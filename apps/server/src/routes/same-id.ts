import { ApiFault } from '../api-fault.js';

/** The address and the record must name the same thing, or a record could overtake another. */
export function requireSameId(inPath: string, inBody: string): void {
  if (inPath === inBody) return;
  throw new ApiFault(400, 'API-BAD-REQUEST', `The address names ${inPath} and the record ${inBody}. Send one name.`);
}
