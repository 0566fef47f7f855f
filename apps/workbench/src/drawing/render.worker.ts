import type { FromRenderer, ToRenderer } from './picture.js';
import { PictureDesk } from './picture-desk.js';

/** Work between two looks at the letter box; orders for what is under the cursor must not wait longer. */
const SLICE_MS = 6;

const port = self as unknown as DedicatedWorkerGlobalScope;
const say = (message: FromRenderer, moved: Transferable[] = []): void => port.postMessage(message, moved);

const desk = new PictureDesk(
  (width, height) => new OffscreenCanvas(width, height),
  true,
  ({ scene, order, sheet, effort }) => {
    const bitmap = (sheet as OffscreenCanvas).transferToImageBitmap();
    say({ says: 'picture', scene, order, bitmap, effort }, [bitmap]);
  },
);

// A message to ourselves lets waiting messages in first, without the delay of a timer.
const turn = new MessageChannel();
let isTurning = false;
turn.port1.onmessage = () => {
  isTurning = false;
  desk.work(SLICE_MS);
  keepTurning();
};
function keepTurning(): void {
  if (isTurning || !desk.hasWork) return;
  isTurning = true;
  turn.port2.postMessage(null);
}

port.onmessage = (event: MessageEvent<ToRenderer>) => {
  const message = event.data;
  if (message.says === 'scene') {
    desk.setScene(message.number, message.scene);
    const index = desk.pickIndex();
    say({ says: 'index', scene: message.number, index }, index === null ? [] : [index]);
  } else {
    desk.order(message.order);
  }
  keepTurning();
};

say({ says: 'ready' });
