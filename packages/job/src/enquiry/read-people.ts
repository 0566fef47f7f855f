import { type Found, matchesOf } from './enquiry-fact.js';

/** Who asks, and under which number. */
export function* readPeople(text: string): Generator<Found> {
  const labelled = /^[ \t]*(?:customer|company|firm|firma|kunde)[ \t]*:[ \t]*(?<name>[^\r\n]{2,120}?)[ \t]*$/gimu;
  for (const { groups, start, end } of matchesOf(text, labelled)) yield named('customer', groups.name!, start, end);

  const contact = /^[ \t]*(?:contact|attn\.?|ansprechpartner|from|von)[ \t]*:[ \t]*(?<name>[^\r\n]{2,120}?)[ \t]*$/gimu;
  for (const { groups, start, end } of matchesOf(text, contact)) yield named('contact', groups.name!, start, end);

  const regards =
    /^[ \t]*(?:(?:kind|best|with)[ \t]+regards|regards|sincerely|mit freundlichen grüßen|viele grüße|mfg)[,.!]?[ \t]*\r?\n(?:[ \t]*\r?\n)?[ \t]*(?<name>\p{Lu}[^\r\n@]{1,80}?)[ \t]*(?=\r?\n|$)/gimu;
  for (const { groups, end } of matchesOf(text, regards)) {
    const name = groups.name!;
    yield named('contact', name, text.lastIndexOf(name, end), text.lastIndexOf(name, end) + name.length);
    const below = /^\r?\n[ \t]*(?<firm>\p{Lu}[^\r\n@:]{1,80}?)[ \t]*(?=\r?\n|$)/u.exec(text.slice(end));
    const firm = below?.groups?.firm;
    if (firm !== undefined) {
      const at = end + below![0].indexOf(firm);
      yield named('customer', firm, at, at + firm.length);
    }
  }

  const number =
    /(?<![\p{L}\d])(?:RFQ|enquiry|inquiry|anfrage|our\s+ref(?:erence)?)\.?[ \t]*(?:no\.?|nr\.?|number|nummer|#|:|-)*[ \t]*(?<id>[A-Za-z]{0,6}[-/ ]?\d[\w\-/.]{0,30})/giu;
  for (const { groups, start, end } of matchesOf(text, number)) {
    const id = groups.id!.replace(/[.\s]+$/, '').trim();
    yield named('enquiry', id, start, end);
  }
}

function named(field: 'customer' | 'contact' | 'enquiry', value: string, start: number, end: number): Found {
  return { field, value, says: value, start, end };
}
