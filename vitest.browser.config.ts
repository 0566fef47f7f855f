import { defineConfig } from 'vitest/config';

// The page in real Chromium against the real server; needs the built page and server (npm run build).
export default defineConfig({
  test: {
    include: ['apps/workbench/browser-tests/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 60_000,
    pool: 'forks',
    maxWorkers: 2,
  },
});
