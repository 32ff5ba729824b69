/** Checks the words of a command line against a command's options before anything runs: unknown, missing and repeated ones are refused. */
import type { ArgsDef } from 'citty';
import { TrundleError, likelyName } from '../run/plain.js';

/**
 * Refuses flags that the command does not have, flags without their value, and flags given twice.
 * @param rawArgs the words after the command's name; everything after `--` is left alone
 * @throws TrundleError `argument-unknown` or `argument-invalid`
 */
export function checkFlags(rawArgs: readonly string[], args: ArgsDef): void {
  const known = Object.keys(args).filter((name) => args[name]?.type !== 'positional');
  const seen = new Set<string>();
  for (let i = 0; i < rawArgs.length; i++) {
    const word = rawArgs[i] ?? '';
    if (word === '--') return;
    if (!word.startsWith('-') || word === '-') continue;
    const [flag = '', inline] = word.split(/=(.*)/s);
    const name = flag.replace(/^--/, '');
    if (name === 'help') continue;
    const definition = flag.startsWith('--') ? args[name] : undefined;
    if (!definition || definition.type === 'positional') throw unknown(flag, likelyName(name, known));
    if (seen.has(name)) throw new TrundleError('argument-invalid', `"${flag}" is given twice.`);
    seen.add(name);
    if (definition.type === 'boolean') continue;
    const value = inline ?? rawArgs[++i];
    if (value === undefined || value === '' || (inline === undefined && value.startsWith('--')))
      throw new TrundleError(
        'argument-invalid',
        `"${flag}" needs a value${definition.valueHint ? `, like ${definition.valueHint}` : ''}.`,
      );
  }
}

/** Those of some options that were typed, with their dashes. @param args as parsed */
export function typedOf(names: readonly string[], args: object): string[] {
  return names.filter((name) => name in args).map((name) => `--${name}`);
}

function unknown(flag: string, meant: string | null): TrundleError {
  const instead = meant === null ? 'see --help for those that there are' : `the nearest is "--${meant}"`;
  return new TrundleError(
    'argument-unknown',
    `There is no option "${flag}"; ${instead}. A file name that begins with a dash goes after "--".`,
  );
}
