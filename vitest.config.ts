import { defineConfig } from 'vitest/config';

// Tests import every package's TypeScript directly (export condition "gapwright-source"), so no build is needed to run them.
export default defineConfig({
  resolve: { conditions: ['gapwright-source'] },
  ssr: { resolve: { conditions: ['gapwright-source'] } },
  test: {
    include: ['packages/*/src/**/*.test.ts', 'apps/*/src/**/*.test.{ts,tsx}', 'tools/**/*.test.ts'],
    testTimeout: 30_000,
    pool: 'threads',
    maxWorkers: 2,
  },
});
