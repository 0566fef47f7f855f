import './drawing.css';
import type { Point } from '@gapwright/geometry';
import type { Scene } from '@gapwright/job';
import { useEffect, useId, useRef, useState } from 'react';
import { Button, Choice } from '../kit/index.js';
import type { LengthUnit } from '../units/length.js';
import { BAND_FACTORS } from './band.js';
import { watchGestures } from './gestures.js';
import { handleKey, type KeyContext, type Pointed } from './keys.js';
import { KeysHelp } from './keys-help.js';
import { Legend } from './legend.js';
import { isSameSelection, markSelection, markWords } from './marks.js';
import { type Measure, measureText, NOTHING_MEASURED, pointText, withPoint } from './measure.js';
import type { PictureEffort, PictureKind } from './picture.js';
import { PrintSheet } from './print-sheet.js';
import { Scrubber } from './scrubber.js';
import { SNAP_WORDS, type Snap } from './snap.js';
import type { StageCost } from './stage.js';
import { type DrawingSelection, type DrawingShow, SHOW_AT_FIRST } from './types.js';
import { useStage } from './use-stage.js';
import { lineAtPlace, placeAt } from './walk.js';

export interface DrawingPaneProps {
  readonly scene: Scene | null;
  readonly selection: DrawingSelection | null;
  readonly onSelect: (selection: DrawingSelection | null) => void;
  /** What the cursor is on, as it would be selected. */
  readonly onHover?: (selection: DrawingSelection | null) => void;
  /** A new value brings this place into the middle. */
  readonly focusAt: Point | null;
  /** Only this operation's lines; null for all. */
  readonly operation: number | null;
  readonly units: LengthUnit;
  /** Half-width of the tolerance the error band is compared with, mm. */
  readonly toleranceMm?: number | null;
  readonly initialShow?: Partial<DrawingShow>;
  /** The line of program text the erosion has come to. */
  readonly onLine?: (line: number, operation: number) => void;
  /** The sentence of a problem that is picked on the drawing. */
  readonly sentenceOf?: (problemCode: string, mark: string) => string | null;
  /** For measuring: script on the page's thread, and what each picture took. */
  readonly onCost?: StageCost;
  readonly onPainted?: (kind: PictureKind, effort: PictureEffort) => void;
}

const NOTHING = (): void => {};

/** The part with everything planned and proved on it. */
export function DrawingPane(props: DrawingPaneProps) {
  const { scene, selection, onSelect, focusAt, operation, units, toleranceMm = null } = props;
  const host = useRef<HTMLDivElement>(null);
  const hoverText = useRef<HTMLSpanElement>(null);
  const coordinates = useRef<HTMLSpanElement>(null);
  const [show, setShow] = useState<DrawingShow>(() => ({ ...SHOW_AT_FIRST, ...props.initialShow }));
  const [isMeasuring, setIsMeasuring] = useState(false);
  const [measure, setMeasure] = useState<Measure>(NOTHING_MEASURED);
  const [pointed, setPointed] = useState<Pointed | null>(null);
  const [says, setSays] = useState('');
  const [chosenFactor, setChosenFactor] = useState<number | null>(null);
  const [looked, setLooked] = useState({ dropped: 0, bandFactor: 1 });
  const helpId = useId();
  const lastHover = useRef<DrawingSelection | null>(null);

  const { stage, playhead } = useStage(host, {
    hovered: (hit, mark, at, snap) => {
      const found =
        mark !== null
          ? markSelection(mark)
          : hit === null || scene === null
            ? null
            : { feature: scene.layers[hit.layer]!.names[hit.path]! };
      if (coordinates.current !== null)
        coordinates.current.textContent = at === null ? '' : pointText(snap?.at ?? at, units);
      if (hoverText.current !== null) {
        hoverText.current.textContent =
          snap !== null && snap.kind !== 'free'
            ? SNAP_WORDS[snap.kind]
            : mark !== null
              ? markWords(mark, units)
              : hit === null || scene === null
                ? ''
                : lineWords(scene, hit.layer, hit.path);
      }
      if (!isSameSelection(found, lastHover.current)) {
        lastHover.current = found;
        props.onHover?.(found);
      }
    },
    looked: (facts) => {
      if (facts.dropped !== looked.dropped || facts.bandFactor !== looked.bandFactor) {
        setLooked({ dropped: facts.dropped, bandFactor: facts.bandFactor });
      }
    },
    painted: props.onPainted ?? NOTHING,
    cost: props.onCost ?? NOTHING,
  });

  const walk = scene?.walks.find((w) => operation === null || w.operation === operation) ?? null;
  useEffect(() => playhead.setWalk(walk), [playhead, walk]);

  useEffect(() => {
    stage.current?.update({
      scene,
      selection,
      show,
      operation,
      units,
      toleranceMm,
      bandFactor: chosenFactor,
      measure,
      isMeasuring,
      pointed: pointed?.snap ?? null,
    });
  }, [stage, scene, selection, show, operation, units, toleranceMm, chosenFactor, measure, isMeasuring, pointed]);

  useEffect(() => {
    if (focusAt !== null) stage.current?.lookAt(focusAt);
  }, [stage, focusAt]);

  const { onLine } = props;
  useEffect(() => {
    if (walk === null || onLine === undefined) return;
    let last: number | null = null;
    return playhead.subscribe(() => {
      const line = lineAtPlace(walk, placeAt(walk, playhead.atMin));
      if (line === null || line === last) return;
      last = line;
      onLine(line, walk.operation);
    });
  }, [playhead, walk, onLine]);

  const addMeasured = (snap: Snap): void => {
    const next = withPoint(measure, snap);
    setMeasure(next);
    setSays(
      next.first !== null && next.second !== null
        ? measureText(next.first, next.second, units)
        : `From ${SNAP_WORDS[snap.kind]} ${pointText(snap.at, units)}. Now the second point.`,
    );
  };
  const setMeasuring = (on: boolean): void => {
    setIsMeasuring(on);
    setMeasure(NOTHING_MEASURED);
    setPointed(null);
    setSays(on ? 'Measuring: pick the first point.' : '');
  };
  const select = (next: DrawingSelection | null): void => {
    setPointed(null);
    setSays('');
    onSelect(next);
  };
  // The magnified band would lie over the kerf, so it makes room; its toggle brings it back.
  const showErosion = (): void => setShow((now) => (now.erosion ? now : { ...now, erosion: true, band: false }));

  const pick = (at: Point, reachPx: number): void => {
    host.current?.focus({ preventScroll: true });
    if (stage.current === null) return;
    if (isMeasuring) {
      addMeasured(stage.current.snapAt(at, Math.max(10, reachPx)));
      return;
    }
    const { mark, hit } = stage.current.at(at, reachPx);
    if (mark !== null) select(markSelection(mark));
    else if (hit !== null && scene !== null) select({ feature: scene.layers[hit.layer]!.names[hit.path]! });
    else select(null);
  };
  const pickNow = useRef(pick);
  pickNow.current = pick;

  useEffect(() => {
    if (host.current === null) return;
    return watchGestures(host.current, {
      zoom: (at, factor) => stage.current?.zoom(at, factor),
      pan: (dx, dy) => stage.current?.pan(dx, dy),
      hover: (at) => stage.current?.hover(at),
      pick: (at, reachPx) => pickNow.current(at, reachPx),
      fit: () => stage.current?.fit(),
    });
  }, [stage]);

  const context: KeyContext = {
    stage,
    playhead,
    scene,
    units,
    selection,
    isMeasuring,
    pointed,
    point: (next, text) => {
      setPointed(next);
      setSays(text);
    },
    select,
    setMeasuring,
    addMeasured,
    showErosion,
  };
  const zoomMiddle = (factor: number): void => {
    const now = stage.current;
    now?.zoom({ x: now.size.width / 2, y: now.size.height / 2 }, factor);
  };
  const hasBand = scene !== null && scene.bands.length > 0;
  const toggles: readonly (readonly [keyof DrawingShow, string, boolean])[] = [
    ['passes', 'Passes', scene?.layers.some((l) => l.kind === 'pass') ?? false],
    ['marks', 'Names', (scene?.marks.length ?? 0) > 0],
    ['band', 'Error band', hasBand],
    ['erosion', 'Erosion', walk !== null],
  ];

  return (
    <figure className="drawing-pane" aria-label="Drawing">
      <div className="drawing-bar">
        <Button onPress={() => stage.current?.fit()}>Whole drawing</Button>
        <Button onPress={() => zoomMiddle(1.5)}>Closer</Button>
        <Button onPress={() => zoomMiddle(1 / 1.5)}>Farther</Button>
        <label className="drawing-toggle">
          <input type="checkbox" checked={isMeasuring} onChange={(e) => setMeasuring(e.currentTarget.checked)} />
          Measure
        </label>
        {toggles.map(([key, label, isThere]) =>
          isThere ? (
            <label key={key} className="drawing-toggle">
              <input
                type="checkbox"
                checked={show[key]}
                onChange={(event) => setShow({ ...show, [key]: event.currentTarget.checked })}
              />
              {label}
            </label>
          ) : null,
        )}
        {hasBand && show.band ? (
          <Choice
            label="Magnification of the error band"
            hideLabel
            value={chosenFactor === null ? 'auto' : String(chosenFactor)}
            options={[
              { value: 'auto', label: `band × ${looked.bandFactor}` },
              ...BAND_FACTORS.map((f) => ({ value: String(f), label: `× ${f}` })),
            ]}
            onChoose={(value) => setChosenFactor(value === 'auto' ? null : Number(value))}
          />
        ) : null}
      </div>
      <div
        ref={host}
        className={`drawing-host${isMeasuring ? ' drawing-measuring' : ''}`}
        role="application"
        aria-label="Drawing of the part"
        aria-describedby={helpId}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: an application is worked by keyboard
        tabIndex={0}
        onKeyDown={(event) => {
          if (handleKey(event, context)) {
            event.preventDefault();
            event.stopPropagation();
          }
        }}
      >
        {scene === null ? <p className="drawing-empty">No drawing yet.</p> : null}
      </div>
      {scene === null ? null : <PrintSheet scene={scene} show={show} operation={operation} units={units} />}
      <p id={helpId} className="visually-hidden">
        n and p point at features and marks, Enter picks, f shows the whole drawing, plus and minus change its size,
        arrows move it, m measures. All keys are listed under Keys below.
      </p>
      <div className="drawing-readout">
        <p className="drawing-says" aria-live="polite">
          {says !== '' ? says : selectionWords(props)}
        </p>
        <p className="drawing-cursor">
          <span ref={hoverText} />
          <span ref={coordinates} className="drawing-coordinates" />
        </p>
      </div>
      {looked.dropped > 0 && show.marks ? (
        <p className="drawing-note">
          {looked.dropped === 1
            ? 'One name does not fit here; come closer to read it.'
            : `${looked.dropped} names do not fit here; come closer to read them.`}
        </p>
      ) : null}
      {walk === null ? null : <Scrubber playhead={playhead} walk={walk} onUse={showErosion} />}
      {scene === null ? null : (
        <figcaption className="drawing-caption">
          <Legend scene={scene} show={show} units={units} toleranceMm={toleranceMm} bandFactor={looked.bandFactor} />
          <KeysHelp />
        </figcaption>
      )}
    </figure>
  );
}

function lineWords(scene: Scene, layerIndex: number, path: number): string {
  const layer = scene.layers[layerIndex]!;
  const name = layer.names[path]!;
  switch (layer.kind) {
    case 'part':
      return `feature ${name}`;
    case 'reference':
      return `not cut, layer ${name}`;
    case 'pass':
      return `${name}, pass ${layer.pass ?? '?'}`;
    case 'lead-in':
      return `${name}, lead of pass ${layer.pass ?? '?'}`;
    case 'open end':
      return `${name}, open`;
  }
}

/** What is picked, in words, with the sentence of a problem. */
function selectionWords({ scene, selection, sentenceOf, units }: DrawingPaneProps): string {
  if (selection === null || scene === null) return '';
  const mark = scene.marks.find((m) =>
    m.kind === 'problem'
      ? m.code === selection.problemCode && (selection.mark ?? m.label) === m.label
      : m.kind !== 'feature' && m.label === selection.mark && selection.problemCode === undefined,
  );
  if (mark?.kind === 'problem') return sentenceOf?.(mark.code, mark.label) ?? markWords(mark, units);
  if (mark !== undefined) return `Picked: ${markWords(mark, units)}`;
  return selection.feature === undefined ? '' : `Picked: feature ${selection.feature}`;
}
