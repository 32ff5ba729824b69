/** Bundles the local page: one script and one style sheet under fixed names, which the server hands out; nothing is loaded from elsewhere. */
import path from 'node:path';
import { defineConfig } from 'vite';

const root = path.resolve(import.meta.dirname, '..');

export default defineConfig({
  root: path.join(root, 'src/web/page'),
  base: '/assets/',
  publicDir: false,
  logLevel: 'warn',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    target: ['chrome109', 'firefox115', 'safari16'],
    outDir: path.join(root, 'dist/web/page'),
    emptyOutDir: true,
    sourcemap: false,
    minify: true,
    reportCompressedSize: false,
    rolldownOptions: {
      input: path.join(root, 'src/web/page/main.tsx'),
      treeshake: { moduleSideEffects: false },
      output: {
        entryFileNames: '[name].js',
        chunkFileNames: '[name]-[hash].js',
        assetFileNames: '[name][extname]',
      },
    },
  },
});
