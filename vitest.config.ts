import { defineConfig } from 'vitest/config';

// Tests import every package's TypeScript directly (export condition "source"), so no build is needed to run them.
export default defineConfig({
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
  test: {
    include: ['packages/*/src/**/*.test.ts', 'apps/*/src/**/*.test.{ts,tsx}', 'tools/**/*.test.ts'],
    testTimeout: 30_000,
    pool: 'threads',
    maxWorkers: 2,
  },
});
