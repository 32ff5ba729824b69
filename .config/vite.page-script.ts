/** Bundles the script of the report page into one file that stands inside the page: no import, no source map, the same bytes each time. */
import path from 'node:path';
import { defineConfig } from 'vite';
import { licenceNotices } from './licence-notices.js';

const root = path.resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  publicDir: false,
  logLevel: 'warn',
  plugins: [licenceNotices()],
  build: {
    // The page is read on phones and in the browsers of cutting rooms that are some years old.
    target: ['chrome109', 'firefox115', 'safari16'],
    outDir: path.join(root, 'dist/report'),
    emptyOutDir: false,
    copyPublicDir: false,
    sourcemap: false,
    minify: true,
    reportCompressedSize: false,
    lib: {
      entry: path.join(root, 'src/report/page-script/main.ts'),
      formats: ['iife'],
      name: 'trundlePage',
      fileName: () => 'page-script.js',
    },
    rolldownOptions: {
      // Nothing in src/ does anything by being imported alone: schemas and tables that no chart uses stay out.
      treeshake: { moduleSideEffects: false },
    },
  },
});
