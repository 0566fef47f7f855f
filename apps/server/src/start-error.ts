/** The server cannot start for a reason the user can do something about; `message` is one clear sentence. */
export class StartError extends Error {
  override readonly name = 'StartError';
}
