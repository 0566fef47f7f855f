#!/usr/bin/env node
// The command line starts from the built code; in a fresh checkout it is built first.
import { existsSync } from 'node:fs';

const main = new URL('../dist/main.js', import.meta.url);
if (!existsSync(main)) {
  const { build } = await import('../../../tools/build.mjs');
  build();
}
await import(main.href);
