/**
 * Names of the settings of a measurement, as they are typed: words of the trade, the same on the command line (`--focal`) and in the
 * form of the local page; their values are texts with their units ("35mm").
 */

/** Lens, camera and dolly. */
export const RIG_SETTINGS = [
  'focal',
  'sensor',
  'focal-px',
  'lens-distortion',
  'readout',
  'shutter',
  'speed',
  'travel',
  'wheelbase',
  'track-width',
  'wheel-diameter',
  'joint-spacing',
  'machine',
  'mount',
  'mains',
  'camera-height',
  'camera-offset',
  'lens-azimuth',
  'head',
] as const;

/** What the picture has to satisfy. */
export const DELIVERY_SETTINGS = [
  'for',
  'delivery-name',
  'deliver',
  'max-crop',
  'max-residual',
  'viewing',
] as const;

/** The sheet of the pass. */
export const PASS_SETTINGS = [
  'floor',
  'location',
  'lane',
  'direction',
  'setup',
  'wheels',
  'track',
  'pass-number',
  'operator',
  'production',
  'unit',
  'camera-roll',
  'slate',
  'take-number',
  'mark',
  'notes',
  'tags',
] as const;

/** What the stabilised picture is to do. */
export const STABILISE_SETTINGS = ['stabilise', 'smoothing', 'take'] as const;

/** Range, working width, border between move and vibration, units of the report. */
export const ANALYSIS_SETTINGS = ['in', 'out', 'width', 'cutoff', 'units'] as const;

/** Every setting that can be typed. */
export const SETTING_NAMES = [
  ...RIG_SETTINGS,
  ...DELIVERY_SETTINGS,
  ...PASS_SETTINGS,
  ...STABILISE_SETTINGS,
  ...ANALYSIS_SETTINGS,
] as const;

export type SettingName = (typeof SETTING_NAMES)[number];
export type RigSetting = (typeof RIG_SETTINGS)[number];
export type DeliverySetting = (typeof DELIVERY_SETTINGS)[number];
export type PassSetting = (typeof PASS_SETTINGS)[number];

/** Settings as typed, by their names; what is missing is not given. Other names are refused where the whole is read. */
export type Settings = Readonly<Record<string, string>>;

/** What was typed for a setting; undefined when it is not given. */
export function typed(settings: Settings, name: SettingName): string | undefined {
  return Object.hasOwn(settings, name) ? settings[name] : undefined;
}
