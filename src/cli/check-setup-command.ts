/** `trundle check-setup`: what was found on this machine, its versions, and the fix for what is missing. */
import { defineCommand } from 'citty';
import { describeTools, lookForTools } from '../footage/index.js';
import { EXIT, type ExitStatus } from '../run/index.js';
import { toolVersion } from '../tool-version.js';
import type { Io } from './io.js';

/** The command; its `run` gives the exit status. */
export function checkSetupCommand(io: Io) {
  return defineCommand({
    meta: { name: 'check-setup', description: 'show what was found on this machine and what is missing' },
    args: {},
    async run(): Promise<ExitStatus> {
      const { version, commit } = toolVersion();
      const rows = [
        {
          what: 'trundle',
          version: commit ? `${version} (${commit})` : version,
          from: 'this program',
          ok: true,
          fix: '',
        },
        {
          what: 'Node.js',
          version: process.versions.node,
          from: process.execPath,
          ok: Number(process.versions.node.split('.')[0]) >= 20,
          fix: 'install Node.js 20 or newer',
        },
        ...describeTools(await lookForTools()),
      ];
      for (const row of rows)
        io.out(
          `${row.ok ? 'ok     ' : 'MISSING'} ${row.what.padEnd(9)} ${row.version || '-'}  ${row.from}${row.ok ? '' : `  -> ${row.fix}`}\n`,
        );
      return rows.every((row) => row.ok) ? EXIT.measured : EXIT.clipUnusable;
    },
  });
}
