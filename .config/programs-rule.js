/**
 * The house rule on other programs, as an ESLint rule: no shell anywhere, and programs are started in few files, each named here with
 * its reason. (Text that becomes code is forbidden by rules of ESLint itself, node:vm here.)
 */
import path from 'node:path';

/** Files of src/ that start programs; elsewhere one of their functions is used. */
const STARTERS = {
  'footage/tools.ts': 'asks FFmpeg and ffprobe their versions',
  'footage/ask-ffprobe.ts': 'asks about a clip',
  'footage/ffmpeg-job.ts': 'runs FFmpeg through its driver',
  'batch/work-process.ts': 'forks a measurement',
  'cli/show-in-browser.ts': 'opens a page for the person at the machine',
};

/** Functions of child_process that hand a line to a shell. */
const BY_SHELL = ['exec', 'execSync'];
const PROCESS_MODULE = /^(node:)?child_process$/;
const CODE_MODULE = /^(node:)?vm$/;

/** @type {import('eslint').Rule.RuleModule} */
export const programs = {
  meta: { type: 'problem', schema: [], messages: { broken: '{{why}}' } },
  create(context) {
    const rel = path.relative(path.resolve(context.cwd, 'src'), context.filename).split(path.sep).join('/');
    const isSource = !rel.startsWith('..');
    const report = (node, why) => context.report({ node, messageId: 'broken', data: { why } });
    const noShell = (node, name) =>
      report(node, `${name} runs a shell: use execFile or spawn with a list of arguments.`);

    function check(node, source, isTypeOnly = false) {
      if (typeof source !== 'string') return;
      if (CODE_MODULE.test(source)) report(node, 'No text becomes code here: leave node:vm out.');
      if (!PROCESS_MODULE.test(source) || isTypeOnly) return;
      if (isSource && !(rel in STARTERS))
        report(node, `${rel} starts no programs; those that do are listed in .config/programs-rule.js.`);
    }

    return {
      ImportDeclaration(node) {
        check(node, node.source.value, node.importKind === 'type');
        if (!PROCESS_MODULE.test(node.source.value)) return;
        for (const one of node.specifiers) {
          if (one.type !== 'ImportSpecifier')
            report(one, 'Import the functions of child_process by their names, so that a shell is seen.');
          else if (BY_SHELL.includes(one.imported.name)) noShell(one, one.imported.name);
        }
      },
      ImportExpression(node) {
        check(node, node.source.value);
        if (PROCESS_MODULE.test(node.source.value))
          report(node, 'Import the functions of child_process by their names, so that a shell is seen.');
      },
      ExportNamedDeclaration: (node) => node.source && check(node, node.source.value),
      ExportAllDeclaration: (node) => check(node, node.source.value),
      CallExpression(node) {
        const { callee, arguments: given } = node;
        if (callee.type !== 'Identifier') return;
        if (callee.name === 'require' && given[0]?.type === 'Literal') check(node, given[0].value);
      },
      Property(node) {
        const name = node.key.type === 'Identifier' && !node.computed ? node.key.name : node.key.value;
        const isOff = node.value.type === 'Literal' && node.value.value === false;
        if (name === 'shell' && !isOff) noShell(node, 'The option "shell"');
      },
    };
  },
};
