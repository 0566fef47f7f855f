export { Desk } from './desk.js';
export { dayOf, dayWords, dueWords } from './due.js';
export { rememberAnswer, useKnownAnswers } from './known.js';
