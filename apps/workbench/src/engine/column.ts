import { NO_ANSWER, patchAnswer, type SheetStep } from '@gapwright/job/sheet-patch';
import type { AnswerState } from './engine.js';

/** Nothing asked yet. */
export const IDLE: AnswerState = {
  answer: null,
  done: [],
  working: null,
  progress: null,
  isStale: false,
  fault: null,
};

/** A newer question is asked: the last answer stays, marked as what it is. */
export function asked(state: AnswerState): AnswerState {
  const { answer } = state;
  return { answer, done: [], working: 'reading the drawing', progress: null, isStale: answer !== null, fault: null };
}

/** One step more. With a plan, or where there will be none, the answer is the one that was asked for. */
export function stepped(state: AnswerState, { done, patch, working, progress }: SheetStep): AnswerState {
  const isStale = state.isStale && done !== 'planned' && working !== null;
  return {
    answer: patchAnswer(state.answer ?? NO_ANSWER, patch),
    done: done === null ? state.done : [...state.done, done],
    working,
    progress,
    isStale,
    fault: null,
  };
}

export function faulted(state: AnswerState, says: string): AnswerState {
  return { ...state, working: null, progress: null, fault: `This page could not work it out: ${says}.` };
}
