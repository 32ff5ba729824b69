/** `trundle check-setup`: what was found on this machine, where each binary came from, and the fix for what is missing. */
import { defineCommand, type ArgsDef } from 'citty';
import { describeTools, lookForTools, type FfmpegTool, type Tool } from '../footage/index.js';
import { launchChromium } from '../report/index.js';
import { EXIT, printable, printableJson, type ExitStatus } from '../run/index.js';
import { fileTexts } from '../texts/index.js';
import { toolVersion } from '../tool-version.js';
import { COMMAND_META } from './command-meta.js';
import { carriedBinaries, describeBinary, type Binary } from './binaries.js';
import type { Io } from './io.js';

const ARGS = {
  json: { type: 'boolean', description: 'print it as JSON, with whole checksums, and nothing else' },
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function checkSetupCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META['check-setup'],
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const parts = await Promise.all([toolRows(), browserRow(), carriedRows()]);
      const rows = [...ownRows(), ...parts.flat()];
      io.out(args.json ? `${printableJson({ schema: 'trundle-setup/1', rows }, 2)}\n` : rowsText(rows));
      return rows.some(({ state }) => state === 'MISSING') ? EXIT.clipUnusable : EXIT.measured;
    },
  });
}

/** "old" and "check" work; "without" costs the PDF alone. */
type State = 'ok' | 'old' | 'check' | 'without' | 'MISSING';

interface Row {
  readonly what: string;
  readonly state: State;
  /** Empty when missing. */
  readonly version: string;
  /** Where it was found, with its path. */
  readonly from: string;
  /** What to do, or to know; one sentence each. */
  readonly notes: readonly string[];
  /** Null for what is no binary of its own, and what is missing. */
  readonly binary: Binary | null;
}

function ownRows(): Row[] {
  const { version, commit } = toolVersion();
  const isOldNode = Number(process.versions.node.split('.')[0]) < 20;
  return [
    {
      ...{ what: 'trundle', state: 'ok', from: 'this program', notes: [], binary: null },
      version: commit ? `${version} (${commit})` : version,
    },
    {
      ...{ what: 'Node.js', version: process.versions.node, from: process.execPath, binary: null },
      ...(isOldNode
        ? { state: 'MISSING', notes: ['install Node.js 20 or newer'] }
        : { state: 'ok', notes: [] }),
    },
  ];
}

async function toolRows(): Promise<Row[]> {
  const tools = await lookForTools();
  return Promise.all(
    describeTools(tools).map(async ({ what, ok, version, from, fix }): Promise<Row> => {
      const tool = tools[what];
      if (!ok || !tool) return { what, state: 'MISSING', version, from, notes: [fix], binary: null };
      const binary = await described(tool.path);
      const known = binary && { ...binary, licence: tool.licence ?? binary.licence };
      return withBinary({ what, version, from, notes: agesOf(tool) }, known, 'old');
    }),
  );
}

/** Old decoders have holes that are known to everybody. */
function agesOf(tool: Tool | FfmpegTool): string[] {
  if (!('knowsFpsMode' in tool) || tool.knowsFpsMode) return [];
  const which = tool.from === 'installer package' ? 'the packaged FFmpeg' : 'this FFmpeg';
  const then = tool.from === 'setting' ? 'name' : 'install';
  const taken = tool.from === 'setting' ? '' : ', and it is taken from the PATH instead';
  return [
    `${which} is older than 5.1 (2022), and faults of its decoders are known; ${then} a current one${taken}`,
  ];
}

/** The browser that prints reports; it is started to see whether it does. */
async function browserRow(): Promise<Row> {
  const launch = await launchChromium();
  if (launch.browser === null) {
    const { reason, fix } = launch;
    return {
      what: 'browser',
      state: 'without',
      version: '',
      from: `for --pdf alone (${reason})`,
      notes: [fix],
      binary: null,
    };
  }
  const version = launch.browser.version();
  await launch.browser.close();
  const from = `${fileTexts.browserFrom[launch.from]}: ${launch.path}, for --pdf`;
  const binary = await described(launch.path, launch.from === 'packaged' ? '@sparticuz/chromium' : undefined);
  return withBinary({ what: 'browser', version, from, notes: [] }, binary);
}

async function carriedRows(): Promise<Row[]> {
  const found = await carriedBinaries();
  return Promise.all(
    found.map(async ({ what, name, file }) => {
      const binary = await described(file);
      const row = { what, version: binary?.package?.version ?? '', from: `${name}: ${file}`, notes: [] };
      return withBinary(row, binary);
    }),
  );
}

/** Null for a file that may be run but not read. */
function described(file: string, unpackedFrom?: string): Promise<Binary | null> {
  return describeBinary(file, unpackedFrom).catch(() => null);
}

function withBinary(row: Omit<Row, 'state' | 'binary'>, binary: Binary | null, noted: State = 'ok'): Row {
  const doubts = [
    ...(binary?.record === 'differs'
      ? ['this file is not the one that was recorded for its package: install the packages anew, with npm ci']
      : []),
    ...(binary?.replaceableBy
      ? [
          `${binary.replaceableBy} could replace this file: take the right to write to it and to its folder away`,
        ]
      : []),
  ];
  const state = doubts.length > 0 ? 'check' : row.notes.length > 0 ? noted : 'ok';
  return { ...row, state, notes: [...row.notes, ...doubts], binary };
}

/** Columns, each as wide as its widest text; what is known of the binary and what to do stand below, indented. */
function rowsText(rows: readonly Row[]): string {
  const widthOf = (text: (row: Row) => string): number => Math.max(...rows.map((row) => text(row).length));
  const [states, names, versions] = [
    widthOf(({ state }) => state),
    widthOf(({ what }) => what),
    widthOf(({ version }) => version),
  ];
  const indent = ' '.repeat(states + 1 + names + 1);
  const lines = rows.flatMap(({ state, what, version, from, notes, binary }) => [
    `${state.padEnd(states)} ${what.padEnd(names)} ${(version || '-').padEnd(versions)}  ${from}`,
    ...(binary === null ? [] : [`${indent}${binaryText(binary)}`]),
    ...notes.map((note) => `${indent}-> ${note}`),
  ]);
  return lines.map((line) => `${printable(line).trimEnd()}\n`).join('');
}

function binaryText({ package: from, licence, sha256, record }: Binary): string {
  const origin = from === null ? 'of this machine, from no package' : `${from.name} ${from.version}`;
  return [
    origin,
    licence ?? 'licence not known',
    `SHA-256 ${sha256.slice(0, 12)}...`,
    ...(from === null ? [] : [record]),
  ].join(', ');
}
