/** Rig files that come with clips: NAME.rig.json goes with the clip NAME, whichever of them is there first. */
import { TrundleError, parseRigFile } from '../../../run/index.js';
import { settingsOfRig, type Settings } from '../../../settings/index.js';
import { startTexts } from '../../../texts/index.js';
import type { About } from '../../api.js';

/** A rig file whose clip has not come yet. */
const waiting = new Map<string, Settings>();

/** Whether a file is a rig file by its name. */
export function isRigFile(name: string): boolean {
  return /\.json$/i.test(name);
}

/** What a clip and its rig file have in common. @example stemOf('tiled-corridor.rig.json') // "tiled-corridor" */
export function stemOf(name: string): string {
  return name
    .replace(/(?:\.rig)?\.json$/i, '')
    .replace(/(?<=.)\.[A-Za-z0-9]{1,8}$/, '')
    .toLowerCase();
}

/** Reads a rig file; a sentence where it cannot be read. */
export function readRigFile(
  text: string,
  name: string,
  presets: About['deliveries'],
): { readonly rig: Settings; readonly fault: null } | { readonly rig: null; readonly fault: string } {
  try {
    return { rig: settingsOfRig(parseRigFile(text, name), presets), fault: null };
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return { rig: null, fault: error.message };
  }
}

/**
 * The settings that a part of a clip is measured with: the travel of its rig file is that of the whole clip, so where a speed is given
 * lengths go by the speed. A travel that was typed is meant.
 */
export function settingsOfPart(settings: Settings, rig: Settings | null): Settings {
  const { travel, ...others } = settings;
  const isOfFile = travel !== undefined && travel === rig?.travel;
  const hasSpeed = settings.speed !== undefined && settings.speed !== '';
  return isOfFile && hasSpeed ? others : settings;
}

/** Gives a rig file to the clips of its name; it waits where there is none. @returns what is to be said, empty when it was given */
export function handRig<Row extends { readonly name: string }>(
  name: string,
  rig: Settings,
  rows: readonly Row[],
  give: (row: Row, rig: Settings) => void,
): string {
  const own = rows.filter((row) => stemOf(row.name) === stemOf(name));
  if (own.length === 0) {
    waiting.set(stemOf(name), rig);
    return startTexts.rigWaits(name, name.replace(/(?:\.rig)?\.json$/i, ''));
  }
  for (const row of own) give(row, rig);
  return '';
}

/** The rig file that came before its clip; it is handed out once. */
export function waitingRig(clip: string): Settings | null {
  const rig = waiting.get(stemOf(clip)) ?? null;
  waiting.delete(stemOf(clip));
  return rig;
}
