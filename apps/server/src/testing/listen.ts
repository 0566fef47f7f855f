import { type IncomingHttpHeaders, request } from 'node:http';

/** Reads a stream of events; resolves with each notice in turn. */
export function listen(address: string): {
  next(): Promise<{ sequence: number }>;
  readonly ended: Promise<void>;
  readonly headers: Promise<IncomingHttpHeaders>;
} {
  let headers = (_: IncomingHttpHeaders): void => undefined;
  const started = new Promise<IncomingHttpHeaders>((resolve) => {
    headers = resolve;
  });
  const waiting: ((notice: { sequence: number }) => void)[] = [];
  const arrived: { sequence: number }[] = [];
  const ended = new Promise<void>((resolve) => {
    request(`${address}/api/changes/stream`, (response) => {
      headers(response.headers);
      response.on('data', (chunk: Buffer) => {
        for (const [, data] of chunk.toString().matchAll(/^data: (.*)$/gm)) {
          const notice = JSON.parse(data!) as { sequence: number };
          const reader = waiting.shift();
          if (reader === undefined) arrived.push(notice);
          else reader(notice);
        }
      });
      response.on('close', () => resolve());
    }).end();
  });
  const next = (): Promise<{ sequence: number }> => {
    const known = arrived.shift();
    return known === undefined ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve(known);
  };
  return { next, ended, headers: started };
}
