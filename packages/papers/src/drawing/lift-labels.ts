import { BugError } from '@gapwright/base';

/** A text of a picture, taken out of it; mm on paper from the picture's upper left corner. */
interface PictureLabel {
  readonly x: number;
  readonly y: number;
  /** Turned a quarter to the left, to be read from the right. */
  readonly isUpright: boolean;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly sizeMm: number;
  readonly isBold: boolean;
  readonly colour: string;
  readonly says: string;
}

/** A picture without texts, and its texts. */
export interface LiftedPicture {
  readonly svg: string;
  readonly labels: readonly PictureLabel[];
}

/** Texts of our pictures, alone or in a group that turns and moves them. */
const TURNED = /<g (transform="[^"]*")>(.*?)<\/g>/g;
const TEXT = /<text ([^>]*)>([^<]*)<\/text>/g;
const ATTRIBUTE = /([a-z-]+)="([^"]*)"/g;
const UPRIGHT = /^translate\((\S+) (\S+)\) rotate\(-90\)$/;

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

/**
 * Takes the texts out of a picture made by `drawingSvg`, so that the compiler can set them as outlines: a picture shown
 * by itself must not depend on the typefaces of the machine. Throws a BugError on a text it cannot place.
 */
export function liftLabels(svg: string): LiftedPicture {
  const labels: PictureLabel[] = [];
  const lift = (markup: string, around?: string): string =>
    markup.replace(TEXT, (_all, attributes: string, words: string) => {
      const label = labelOf(new Map([...attributes.matchAll(ATTRIBUTE)].map((m) => [m[1]!, m[2]!])), words, around);
      labels.push(label);
      return '';
    });
  const turned = svg.replace(
    TURNED,
    (_all, transform: string, inner: string) => `<g ${transform}>${lift(inner, transform.slice(11, -1))}</g>`,
  );
  const rest = lift(turned);
  if (rest.includes('<text')) throw new BugError('a picture has a text of a shape that cannot be taken out');
  return { svg: rest, labels };
}

function labelOf(attributes: ReadonlyMap<string, string>, words: string, around?: string): PictureLabel {
  const x = Number(attributes.get('x') ?? 0);
  const y = Number(attributes.get('y') ?? 0);
  const transform = attributes.get('transform') ?? around;
  const turn = transform === undefined ? null : UPRIGHT.exec(transform);
  if (transform !== undefined && turn === null) throw new BugError(`a text of a picture is moved by ${transform}`);
  // A quarter turn to the left takes (x, y) to (y, -x).
  const at = turn === null ? { x, y } : { x: Number(turn[1]) + y, y: Number(turn[2]) - x };
  const anchor = attributes.get('text-anchor') ?? 'start';
  return {
    ...at,
    isUpright: turn !== null,
    anchor: anchor === 'middle' || anchor === 'end' ? anchor : 'start',
    sizeMm: Number(attributes.get('font-size')),
    isBold: attributes.has('font-weight'),
    colour: attributes.get('fill')!,
    says: words.replace(/&([a-z]+);/g, (all, name: string) => ENTITIES[name] ?? all),
  };
}
