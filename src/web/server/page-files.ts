/** The files of the page, read once at the start: the shell that every address of the page gets, scripts and styles, compressed beforehand. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Context } from 'hono';
import { familyStyle } from '../../report/index.js';
import { TrundleError } from '../../run/index.js';
import { serverTexts } from '../../texts/index.js';
import { WebProblem } from './problem.js';

/** Beside this file where it was built, and in the build where it runs from its source. */
const FOLDERS = ['../page', '../../../dist/web/page'].map((place) =>
  path.resolve(import.meta.dirname, place),
);

const TYPES: Readonly<Record<string, string>> = {
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
};

interface PageFile {
  readonly type: string;
  readonly content: Buffer<ArrayBuffer>;
  readonly gzip: Buffer<ArrayBuffer>;
  readonly tag: string;
}

/** The files by the last part of their address. */
export class PageFiles {
  private constructor(private readonly files: ReadonlyMap<string, PageFile>) {}

  /** Reads the build. @throws TrundleError `output-unwritable` where the page was not built */
  static read(folders: readonly string[] = FOLDERS): PageFiles {
    const folder = folders.find((one) => fs.existsSync(path.join(one, 'main.js')));
    if (folder === undefined)
      throw new TrundleError('page-missing', 'The page is not built; run "npm run build" first.');
    const files = new Map<string, PageFile>();
    for (const name of fs.readdirSync(folder)) {
      const type = TYPES[path.extname(name)];
      if (type !== undefined) files.set(name, pageFile(type, fs.readFileSync(path.join(folder, name))));
    }
    files.set('family.css', pageFile(TYPES['.css'], Buffer.from(familyStyle())));
    files.set('', pageFile(TYPES['.html'], Buffer.from(shell())));
    return new PageFiles(files);
  }

  /** Bytes that all files take, compressed. */
  get compressedBytes(): number {
    return [...this.files.values()].reduce((sum, { gzip }) => sum + gzip.length, 0);
  }

  /**
   * Answers with a file.
   * @param name empty for the shell
   * @throws WebProblem 404 `not-there`
   */
  answer(context: Context, name: string): Response {
    const file = this.files.get(name);
    if (file === undefined) throw new WebProblem(404, 'not-there', serverTexts.notThere);
    // The browser asks again each time: after an update of the program nothing old is shown.
    const headers = {
      'Content-Type': file.type,
      'Cache-Control': 'no-cache',
      ETag: file.tag,
      Vary: 'Accept-Encoding',
    };
    if (context.req.header('If-None-Match') === file.tag) return context.body(null, 304, headers);
    if (!/\bgzip\b/.test(context.req.header('Accept-Encoding') ?? ''))
      return context.body(file.content, 200, headers);
    return context.body(file.gzip, 200, { ...headers, 'Content-Encoding': 'gzip' });
  }
}

function pageFile(type: string, content: Buffer): PageFile {
  const tag = `"${createHash('sha256').update(content).digest('base64url').slice(0, 22)}"`;
  return { type, content: Buffer.from(content), gzip: Buffer.from(gzipSync(content, { level: 9 })), tag };
}

/** What every address of the page answers; the script does the rest. Dark until it knows better. */
function shell(): string {
  return `<!doctype html>
<html lang="en" data-theme="dark">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="dark light">
<title>Trundle</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/assets/family.css">
<link rel="stylesheet" href="/assets/main.css">
<script type="module" src="/assets/main.js"></script>
</head>
<body>
<div id="page"></div>
<noscript><p>${serverTexts.needsScript}</p></noscript>
</body>
</html>
`;
}
