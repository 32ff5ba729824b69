/**
 * The house rules as an ESLint rule: who may import whom, and which engine lives in which room.
 * Rooms are the folders of src/; the table below is the order of DEVELOPERS.md, upstream first.
 */
import path from 'node:path';

const FOUNDATION = ['run', 'texts', 'numerics', 'optics', 'files', 'vision'];
const LINE = ['footage', 'tracking', 'motion', 'surface', 'spectrum', 'stabilise', 'judge', 'settings'];
const OUTLETS = ['proof', 'report', 'synth', 'log', 'batch', 'queue', 'web', 'cli'];
/** Thin shells over the whole: they may call the files above the rooms, the other outlets, and the shells before them. */
const SHELLS = ['batch', 'queue', 'web', 'cli'];
/** What a room is entered by: its index, the part of it that runs in a browser, or the part that loads no schemas. */
const ENTRANCES = ['index.js', 'in-browser.js', 'plain.js'];

/** Packages that may be imported in one room only. */
const ENGINES = {
  zod: 'run',
  'fft.js': 'numerics',
  '@techstark/opencv-js': 'vision',
  'fluent-ffmpeg': 'footage',
  'ffmpeg-static': 'footage',
  '@ffmpeg-installer/ffmpeg': 'footage',
  '@ffprobe-installer/ffprobe': 'footage',
  sharp: 'report',
  'd3-scale': 'report',
  'd3-shape': 'report',
  'd3-array': 'report',
  'd3-format': 'report',
  'playwright-core': 'report',
  '@sparticuz/chromium': 'report',
  'dejavu-fonts-ttf': 'report',
  libsql: 'log',
  bullmq: 'queue',
  ioredis: 'queue',
  citty: 'cli',
  hono: 'web',
  '@hono/node-server': 'web',
  preact: 'web',
  '@preact/signals': 'web',
};

/** Rooms (or parts of rooms) that also run in the browser: no Node API. */
const PURE = [
  /^run\//,
  /^texts\//,
  /^numerics\//,
  /^optics\//,
  /^motion\//,
  /^surface\//,
  /^spectrum\//,
  /^stabilise\//,
  /^judge\//,
  /^report\/charts\//,
  /^report\/page-script\//,
  /^report\/in-browser\.ts$/,
  /^settings\//,
  /^web\/page\//,
  /^web\/(api|is-active|stretch)\.ts$/,
  /^log\/in-browser\.ts$/,
];

const NODE_GLOBALS = new Set(['process', 'Buffer', '__dirname', '__filename', 'require', 'setImmediate']);

function mayImport(from, to) {
  if (from === to || from === '') return true; // files directly under src/ tie the rooms together
  if (OUTLETS.includes(from))
    return (
      !OUTLETS.includes(to) || (SHELLS.includes(from) && !SHELLS.slice(SHELLS.indexOf(from)).includes(to))
    );
  const order = [...FOUNDATION, ...LINE];
  if (FOUNDATION.includes(from))
    return FOUNDATION.indexOf(to) >= 0 && FOUNDATION.indexOf(to) < FOUNDATION.indexOf(from);
  return order.indexOf(to) >= 0 && order.indexOf(to) < order.indexOf(from);
}

function roomOf(file, root) {
  const rel = path.relative(root, file).split(path.sep);
  return rel.length > 1 ? rel[0] : '';
}

/** @type {import('eslint').Rule.RuleModule} */
export const rooms = {
  meta: { type: 'problem', schema: [], messages: { broken: '{{why}}' } },
  create(context) {
    const root = path.resolve(context.cwd, 'src');
    const file = context.filename;
    const rel = path.relative(root, file).split(path.sep).join('/');
    if (rel.startsWith('..')) return {};
    const room = roomOf(file, root);
    const pure = PURE.some((p) => p.test(rel));
    const report = (node, why) => context.report({ node, messageId: 'broken', data: { why } });

    function check(node, source) {
      if (typeof source !== 'string') return;
      if (source.startsWith('.')) {
        const target = path.resolve(path.dirname(file), source);
        const to = roomOf(target, root);
        if (to === room) return;
        if (to === '') {
          if (!SHELLS.includes(room))
            report(
              node,
              `${room}/ must not import a file above the rooms (${source}): arrows point downstream only.`,
            );
          return;
        }
        if (!mayImport(room, to))
          report(node, `${room}/ must not import ${to}/: see the order of the rooms in DEVELOPERS.md.`);
        if (!ENTRANCES.includes(path.basename(target)))
          report(node, `Enter ${to}/ through its index file, not ${source}.`);
        return;
      }
      const name = source.startsWith('@') ? source.split('/').slice(0, 2).join('/') : source.split('/')[0];
      const home = ENGINES[name];
      if (home && home !== room) report(node, `${name} lives in ${home}/ only; use what that room exports.`);
      if (pure && source.startsWith('node:'))
        report(node, `${room}/ runs in the browser too: no Node API (${source}).`);
    }

    return {
      ImportDeclaration: (node) => check(node, node.source.value),
      ExportNamedDeclaration: (node) => node.source && check(node, node.source.value),
      ExportAllDeclaration: (node) => check(node, node.source.value),
      ImportExpression: (node) => check(node, node.source.value),
      Identifier(node) {
        if (!pure || !NODE_GLOBALS.has(node.name)) return;
        const parent = node.parent;
        const isProperty =
          (parent.type === 'MemberExpression' && parent.property === node && !parent.computed) ||
          ((parent.type === 'Property' || parent.type === 'TSPropertySignature') && parent.key === node);
        if (!isProperty) report(node, `${room}/ runs in the browser too: no Node global (${node.name}).`);
      },
    };
  },
};
