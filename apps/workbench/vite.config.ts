import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Where `gapwright serve` answers; it refuses requests that seem to come from another page. */
const SERVER = 'http://127.0.0.1:7411';

// The page takes every room's TypeScript directly (export condition "gapwright-source"); the worker holds the engines.
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  resolve: { conditions: ['gapwright-source', 'module', 'browser', 'development|production'] },
  plugins: [react()],
  worker: { format: 'es' },
  server: {
    fs: { allow: [root] },
    proxy: { '/api': { target: SERVER, changeOrigin: true, headers: { origin: SERVER } } },
  },
  build: { outDir: 'dist', emptyOutDir: true, target: 'es2023', sourcemap: true, manifest: true },
});
