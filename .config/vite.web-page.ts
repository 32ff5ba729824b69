/** Bundles the local page: one script and one style sheet under fixed names, which the server hands out; nothing is loaded from elsewhere. */
import path from 'node:path';
import { defineConfig } from 'vite';
import { licenceNotices } from './licence-notices.js';

const root = path.resolve(import.meta.dirname, '..');

export default defineConfig({
  root: path.join(root, 'src/web/page'),
  base: '/assets/',
  publicDir: false,
  logLevel: 'warn',
  plugins: [licenceNotices()],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: {
    format: 'es',
    plugins: () => [licenceNotices()],
    rolldownOptions: {
      treeshake: { moduleSideEffects: false },
      output: { entryFileNames: '[name]-[hash].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
  build: {
    target: ['chrome109', 'firefox115', 'safari16'],
    outDir: path.join(root, 'dist/web/page'),
    emptyOutDir: true,
    sourcemap: false,
    minify: true,
    reportCompressedSize: false,
    rolldownOptions: {
      input: path.join(root, 'src/web/page/main.tsx'),
      // Nothing in src/ does anything by being imported alone: schemas and tables that the page does not use stay out. Styles do.
      treeshake: { moduleSideEffects: (id) => id.endsWith('.css') },
      output: {
        entryFileNames: '[name].js',
        chunkFileNames: '[name]-[hash].js',
        assetFileNames: '[name][extname]',
      },
    },
  },
});
