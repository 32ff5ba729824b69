/** The lint rule that keeps shells and code made of text out finds them, and FFmpeg's driver splits no words. */
import { Linter, type ESLint } from 'eslint';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
// @ts-expect-error -- plain JavaScript without types
import { programs } from '../../.config/programs-rule.js';

const root = path.resolve(import.meta.dirname, '../..');
const plugin = { rules: { programs: programs as unknown } } as ESLint.Plugin;

/** What the rule says of code in a file of the project. */
function said(code: string, file = 'src/footage/tools.ts'): string[] {
  const linter = new Linter({ cwd: root, configType: 'flat' });
  const config: Linter.Config = {
    files: ['**/*.ts'],
    plugins: { trundle: plugin },
    rules: { 'trundle/programs': 'error' },
  };
  return linter.verify(code, [config], { filename: path.join(root, file) }).map(({ message }) => message);
}

describe('the lint rule on programs', () => {
  it.each([
    "import { exec } from 'node:child_process';",
    "import { execSync as run } from 'child_process';",
    "import * as processes from 'node:child_process';",
    "import processes from 'node:child_process';",
    "const processes = await import('node:child_process');",
    "import { spawn } from 'node:child_process'; spawn('ls', [], { shell: true });",
    "const options = { 'shell': '/bin/sh' };",
    'const options = (shell) => ({ shell });',
    "import { runInNewContext } from 'node:vm';",
  ])('is against %s, also where programs may be started', (code) => {
    expect(said(code).length).toBeGreaterThan(0);
  });

  it.each([
    "import { spawn } from 'node:child_process';",
    "export * from 'node:child_process';",
    "require('child_process').exec('x');",
  ])('is against %s in files that start no programs', (code) => {
    expect(said(code, 'src/report/write-run.ts')).toEqual([
      expect.stringMatching(/^report\/write-run\.ts starts no programs/),
    ]);
  });

  it('lets a program be started by a list of words', () => {
    expect(
      said("import { execFile } from 'node:child_process'; execFile('a', ['b'], { shell: false });"),
    ).toEqual([]);
    expect(
      said("import { spawn } from 'node:child_process'; spawn('a', ['b']);", 'tests/cli/serve.test.ts'),
    ).toEqual([]);
  });
});
