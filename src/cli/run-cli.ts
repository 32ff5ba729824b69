/** Runs one command line and gives its exit status: parsing, dispatch, and one clear sentence for every failure. */
import { defineCommand, renderUsage, runCommand, type ArgsDef, type CommandDef } from 'citty';
import { EXIT, TrundleError, nearestName, type ExitStatus } from '../run/plain.js';
import { COMMAND_META } from './command-meta.js';
import { checkFlags } from './flags.js';
import { tell, type Io } from './io.js';
import { plainIo } from './plain-io.js';

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- commands differ in their options
type AnyCommand = CommandDef<any>;

/** Commands load when asked for, so that `--help` answers at once. */
function commands(io: Io): Record<string, () => Promise<AnyCommand>> {
  return {
    measure: async () => (await import('./measure-command.js')).measureCommand(io),
    whatif: async () => (await import('./whatif-command.js')).whatIfCommand(io),
    report: async () => (await import('./report-command.js')).reportCommand(io),
    compare: async () => (await import('./compare-command.js')).compareCommand(io),
    serve: async () => (await import('./serve-command.js')).serveCommand(io),
    proof: async () => (await import('./proof-command.js')).proofCommand(io),
    lens: async () => (await import('./lens-command.js')).lensCommand(io),
    log: async () => (await import('./log-command.js')).logCommand(io),
    queue: async () => (await import('./queue-command.js')).queueCommand(io),
    synth: async () => (await import('./synth-command.js')).synthCommand(io),
    deliveries: async () => (await import('./deliveries-command.js')).deliveriesCommand(io),
    'check-setup': async () => (await import('./check-setup-command.js')).checkSetupCommand(io),
  };
}

/**
 * Runs a command line.
 * @param argv the words after the program's name
 * @returns the exit status; failures are told on `io.err`, never thrown
 */
export async function runCli(argv: readonly string[], io: Io): Promise<ExitStatus> {
  const plain = plainIo(io);
  try {
    const status = await dispatch(argv, plain);
    return io.signal.aborted && !isUntilInterrupted(argv) ? tell(stopped('done'), plain) : status;
  } catch (error) {
    const isSaid = error instanceof TrundleError && error.code === 'interrupted';
    // A terminal interrupts FFmpeg along with this program: how that broke off is no news.
    return tell(io.signal.aborted && !isSaid ? stopped('broken') : error, plain);
  }
}

/** Whether an interrupt is the proper end of a command line. */
function isUntilInterrupted([command, ...words]: readonly string[]): boolean {
  return (
    command === 'serve' ||
    (command === 'measure' && words.includes('--watch')) ||
    (command === 'queue' && words[0] === 'work')
  );
}

/** An interrupt that a command did not tell of itself: it came when the work was done, or what it broke off failed in another way. */
function stopped(how: 'done' | 'broken'): TrundleError {
  return new TrundleError(
    'interrupted',
    how === 'done'
      ? 'Stopped on request, but what was begun was already done; what is printed and written above stands.'
      : 'Stopped on request; nothing is left half-written.',
  );
}

async function dispatch(argv: readonly string[], io: Io): Promise<ExitStatus> {
  const known = commands(io);
  const [name, ...rest] = argv;
  const root = defineCommand({
    meta: { name: 'trundle', description: 'measures the shake of a dolly test pass from its clip' },
    // Help needs no more of the commands than this; loading them all would take a second.
    subCommands: Object.fromEntries(Object.entries(COMMAND_META).map(([called, meta]) => [called, { meta }])),
  });
  if (name === undefined || name === '--help' || name === 'help') {
    io.out(`${plainUnless(io.colour, await renderUsage(root))}\n`);
    return name === undefined ? EXIT.wrongArguments : EXIT.measured;
  }
  if (name === '--version') {
    io.out(`${(await import('../tool-version.js')).toolVersion().version}\n`);
    return EXIT.measured;
  }
  const load = known[name];
  if (!load)
    throw new TrundleError(
      'argument-unknown',
      `There is no command "${name}"; the nearest is "${nearestName(name, Object.keys(known))}". See trundle --help.`,
    );
  const { command, parent, words, called } = await subCommandOf(await load(), root, name, rest);
  const dashes = words.indexOf('--');
  if ((dashes < 0 ? words : words.slice(0, dashes)).includes('--help')) {
    io.out(`${plainUnless(io.colour, await renderUsage(command, parent))}\n`);
    return EXIT.measured;
  }
  checkFlags(words, command.args as ArgsDef);
  // Which command is meant is settled above; left to itself, citty would take the value of an option for one.
  const { subCommands, ...alone } = command;
  void subCommands;
  const { result } = await runCommand(alone, { rawArgs: words }).catch((error: unknown) => {
    throw lacking(error, command.args as ArgsDef, called);
  });
  return result as ExitStatus;
}

/** The failure in our own words where a command was given nothing to work on, with an example. */
function lacking(error: unknown, args: ArgsDef, called: string): unknown {
  if (!(error instanceof Error && error.message.startsWith('Missing required positional'))) return error;
  const missing = Object.values(args).find(({ type, required }) => type === 'positional' && required);
  if (missing?.valueHint === undefined) return error;
  return new TrundleError(
    'argument-invalid',
    `"trundle ${called}" needs the ${missing.description}, as in "trundle ${called} ${missing.valueHint}".`,
  );
}

/** Numbers of runs: what `log 4` asks for. */
const RUN_NUMBERS = /^\d+(,\d+)*,?$/;

/**
 * The command that the words after a command's name ask for: one below it when the first word is its name, `show` where that is a
 * number.
 */
async function subCommandOf(
  command: AnyCommand,
  root: AnyCommand,
  name: string,
  words: string[],
): Promise<{ command: AnyCommand; parent: AnyCommand; words: string[]; called: string }> {
  const below = command.subCommands as Record<string, () => Promise<AnyCommand>> | undefined;
  const [first] = words;
  if (below === undefined || first === undefined || first.startsWith('-'))
    return { command, parent: root, words, called: name };
  const isNumber = 'show' in below && RUN_NUMBERS.test(first);
  const chosen = isNumber ? 'show' : first;
  const load = below[chosen];
  if (!load)
    throw new TrundleError(
      'argument-unknown',
      `There is no command "${name} ${first}"; the nearest is "${name} ${nearestName(first, Object.keys(below))}". See trundle ${name} --help.`,
    );
  return {
    command: await load(),
    parent: command,
    words: isNumber ? words : words.slice(1),
    called: `${name} ${chosen}`,
  };
}

/** Help text comes coloured; a pipe or file gets it plain. */
function plainUnless(colour: boolean, text: string): string {
  return colour ? text : text.replace(/\u001b\[\d+m/g, '');
}
