/**
 * Settings of several clips: what they share, and what each has of its own, from its rig file or typed for it alone. Its own wins; an
 * empty text of its own says that it is not given, whatever the others have.
 */
import { DELIVERY_SETTINGS, type SettingName, type Settings } from '../../../settings/index.js';
import { withSetting, withSetup } from '../form/form-settings.js';

/** Settings of all clips of a batch. */
export interface BatchSettings {
  readonly shared: Settings;
  /** Of each clip. */
  readonly own: readonly Settings[];
}

/** Whom a value is typed for: all clips, or one of them by its place. */
export type Scope = 'all' | number;

/** What belongs to one pass and not to the next one over the same floor. */
const OF_ONE_PASS: readonly string[] = ['travel', 'pass-number', 'take-number', 'slate', 'mark', 'notes'];

/** What a typed value takes the place of in a rig file, besides the value of the same name. */
const REPLACES: Readonly<Partial<Record<SettingName, readonly SettingName[]>>> = {
  focal: ['focal-px'],
  for: DELIVERY_SETTINGS,
};

/** The settings that a clip is measured with. */
export function settingsFor(shared: Settings, own: Settings): Settings {
  return filled({ ...shared, ...own });
}

/** With one field typed anew; typed for all it takes the place of what single clips have. */
export function withTyped(
  settings: BatchSettings,
  scope: Scope,
  name: SettingName,
  text: string,
): BatchSettings {
  const replaced = [name, ...(REPLACES[name] ?? [])];
  if (scope === 'all')
    return {
      shared: withSetting(settings.shared, name, text),
      own: settings.own.map((one) => without(one, replaced)),
    };
  const value = text.trim() === '' ? '' : text;
  return withOwn(settings, scope, (own) => ({ ...without(own, replaced), [name]: value }));
}

/** With a setup used before: for all, or for one clip exactly as it says. */
export function withSetupFor(settings: BatchSettings, scope: Scope, setup: Settings): BatchSettings {
  const names = Object.keys(setup);
  if (scope === 'all')
    return {
      shared: withSetup(settings.shared, setup),
      own: settings.own.map((one) => without(one, names)),
    };
  return withExactly(settings, scope, withSetup(settingsFor(settings.shared, settings.own[scope]), setup));
}

/** With one clip measured by exactly these settings. */
export function withExactly(settings: BatchSettings, place: number, exactly: Settings): BatchSettings {
  const blanks = Object.fromEntries(Object.keys(settings.shared).map((name) => [name, '']));
  return withOwn(settings, place, () => ({ ...blanks, ...exactly }));
}

/** With nothing given. */
export function cleared(settings: BatchSettings, scope: Scope): BatchSettings {
  if (scope === 'all') return { shared: {}, own: settings.own.map(() => ({})) };
  return withExactly(settings, scope, {});
}

/** What is left for the clips that come next. */
export function ofNextPass(shared: Settings): Settings {
  return without(shared, OF_ONE_PASS);
}

function withOwn(settings: BatchSettings, place: number, change: (own: Settings) => Settings): BatchSettings {
  return { ...settings, own: settings.own.map((one, i) => (i === place ? change(one) : one)) };
}

function without(settings: Settings, names: readonly string[]): Settings {
  return Object.fromEntries(Object.entries(settings).filter(([name]) => !names.includes(name)));
}

function filled(settings: Settings): Settings {
  return Object.fromEntries(Object.entries(settings).filter(([, text]) => text !== ''));
}
