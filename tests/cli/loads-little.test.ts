/** What `trundle --help` loads: itself and the parser of options, none of the engines and none of the commands. */
import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

/** Told of every module that Node loads, in a thread of its own: the place of each goes to standard error. */
const TELL =
  'export async function load(url, context, next) { process._rawDebug("loads " + url); return next(url, context); }';
const WATCH = `import { register } from 'node:module'; register(${JSON.stringify(inUrl(TELL))});`;

function inUrl(source: string): string {
  return `data:text/javascript,${encodeURIComponent(source)}`;
}

/** The modules that a command line loads: of packages their names, of the program their places in src/. */
function loadedBy(...words: string[]): { packages: Set<string>; own: string[]; out: string } {
  const run = spawnSync(
    process.execPath,
    ['--import', 'tsx', '--import', inUrl(WATCH), 'src/cli/main.ts', ...words],
    { encoding: 'utf8', timeout: 60_000 },
  );
  const urls = [...run.stderr.matchAll(/^loads (file:\S+)/gm)].map(([, url]) => url.replace(/\?.*$/, ''));
  const packages = urls.flatMap((url) => /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(url)?.[1] ?? []);
  const own = urls.flatMap((url) => /\/(src\/(?:(?!node_modules).)*)$/.exec(url)?.[1] ?? []);
  return { packages: new Set(packages), own, out: run.stdout };
}

describe('the start of the program', () => {
  it('loads next to nothing for --help', () => {
    const { packages, own, out } = loadedBy('--help');
    expect(out).toMatch(/check-setup/);
    expect([...packages].filter((name) => name !== 'tsx')).toEqual(['citty']);
    expect(own).toContain('src/cli/run-cli.ts');
    expect(own.filter((file) => !/^src\/(cli|run)\//.test(file))).toEqual([]);
    expect(own.filter((file) => file.endsWith('-command.ts'))).toEqual([]);
    expect(own.length).toBeLessThan(15);
  });

  it('sees the engines where a command loads them', () => {
    const { packages } = loadedBy('deliveries');
    expect([...packages]).toContain('zod');
    // That of the queue need not even be installed.
    expect([...packages]).not.toContain('bullmq');
    expect([...packages]).not.toContain('ioredis');
  });
});
