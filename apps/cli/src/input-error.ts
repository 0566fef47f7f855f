/** Input the user must correct: one sentence that says what, where and what to do. Exit code 2. */
export class InputError extends Error {
  override readonly name = 'InputError';
}
