import type { Point } from '@gapwright/geometry';

/** What hands do to the drawing; points are CSS pixels from the pane's upper left corner. */
export interface GestureEvents {
  readonly zoom: (at: Point, factor: number) => void;
  readonly pan: (dx: number, dy: number) => void;
  readonly hover: (at: Point | null) => void;
  /** A click or tap; a finger needs a wider reach than a mouse. */
  readonly pick: (at: Point, reachPx: number) => void;
  readonly fit: () => void;
}

/** A press that moves less is a click, CSS pixels. */
const CLICK_PX = 4;
const TAP_PX = 10;
/** How far from a line a click still picks it. */
const MOUSE_REACH_PX = 7;
const FINGER_REACH_PX = 18;
/** Wheel pixels that double the size: about four notches of a common mouse. */
const WHEEL_PX_PER_DOUBLING = 400;
/** A pinch on a touchpad arrives as small wheel steps with the control key. */
const TOUCHPAD_PX_PER_DOUBLING = 70;
const LINE_PX = 16;

/** Listens to mouse, pen, touch and wheel on an element. Returns what ends it. */
export function watchGestures(element: HTMLElement, events: GestureEvents): () => void {
  const pointers = new Map<number, Point>();
  let pressedAt: Point | null = null;
  let isDragging = false;

  const place = (event: MouseEvent): Point => {
    const box = element.getBoundingClientRect();
    return { x: event.clientX - box.left - element.clientLeft, y: event.clientY - box.top - element.clientTop };
  };

  const down = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && event.button !== 0 && event.button !== 1) return;
    element.setPointerCapture(event.pointerId);
    pointers.set(event.pointerId, place(event));
    // A second finger turns the press into a pinch: no click may follow.
    pressedAt = pointers.size === 1 ? place(event) : null;
    isDragging = pointers.size > 1;
  };

  const move = (event: PointerEvent): void => {
    const now = place(event);
    const before = pointers.get(event.pointerId);
    if (before === undefined) {
      if (event.pointerType !== 'touch') events.hover(now);
      return;
    }
    if (pointers.size === 1) {
      const away = pressedAt === null ? 0 : Math.max(Math.abs(now.x - pressedAt.x), Math.abs(now.y - pressedAt.y));
      if (!isDragging && away < (event.pointerType === 'mouse' ? CLICK_PX : TAP_PX)) return;
      isDragging = true;
      pointers.set(event.pointerId, now);
      events.pan(now.x - before.x, now.y - before.y);
      return;
    }
    const other = [...pointers].find(([id]) => id !== event.pointerId)?.[1];
    pointers.set(event.pointerId, now);
    if (other === undefined) return;
    const apartBefore = Math.sqrt((before.x - other.x) ** 2 + (before.y - other.y) ** 2);
    const apartNow = Math.sqrt((now.x - other.x) ** 2 + (now.y - other.y) ** 2);
    // Each finger carries half of the middle's way.
    events.pan((now.x - before.x) / 2, (now.y - before.y) / 2);
    if (apartBefore > 0 && apartNow > 0) {
      events.zoom({ x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 }, apartNow / apartBefore);
    }
  };

  const up = (event: PointerEvent): void => {
    if (!pointers.delete(event.pointerId)) return;
    if (event.type === 'pointerup' && !isDragging && pressedAt !== null && event.button !== 1) {
      events.pick(place(event), event.pointerType === 'mouse' ? MOUSE_REACH_PX : FINGER_REACH_PX);
    }
    if (pointers.size === 0) {
      isDragging = false;
      pressedAt = null;
    }
  };

  const wheel = (event: WheelEvent): void => {
    event.preventDefault();
    const px =
      event.deltaMode === WheelEvent.DOM_DELTA_LINE
        ? event.deltaY * LINE_PX
        : event.deltaMode === WheelEvent.DOM_DELTA_PAGE
          ? event.deltaY * element.clientHeight
          : event.deltaY;
    events.zoom(place(event), 2 ** (-px / (event.ctrlKey ? TOUCHPAD_PX_PER_DOUBLING : WHEEL_PX_PER_DOUBLING)));
  };
  const leave = (): void => events.hover(null);
  const twice = (): void => events.fit();

  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', up);
  element.addEventListener('pointerleave', leave);
  element.addEventListener('dblclick', twice);
  element.addEventListener('wheel', wheel, { passive: false });
  return () => {
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', up);
    element.removeEventListener('pointerleave', leave);
    element.removeEventListener('dblclick', twice);
    element.removeEventListener('wheel', wheel);
  };
}
