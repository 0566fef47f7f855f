import { describe, expect, it } from 'vitest';
import { FigureFocus, stepInto } from './figure-focus.js';

const ref = (id: string) => ({ id, label: id });

describe('the trail of opened figures', () => {
  it('grows inwards and goes back to a figure that is on it', () => {
    const trail = [ref('f1'), ref('f2'), ref('f3')];
    expect(stepInto(trail, ref('f4'))).toHaveLength(4);
    expect(stepInto(trail, ref('f2'))).toEqual([ref('f1'), ref('f2')]);
  });

  it('tells listeners only when something changed', () => {
    const focus = new FigureFocus();
    let told = 0;
    const stop = focus.subscribe(() => told++);
    focus.open(ref('f1'));
    focus.open(ref('f1'));
    focus.into(ref('f2'));
    focus.backTo(0);
    focus.close();
    focus.close();
    expect(told).toBe(4);
    stop();
    focus.open(ref('f1'));
    expect(told).toBe(4);
  });
});
