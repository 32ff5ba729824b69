/** What is asked of the measurement of one clip, out of the settings as they were typed and a rig file. */
import {
  TrundleError,
  nearestName,
  type Delivery,
  type PassSheet,
  type Rig,
  type RigFile,
  type Units,
} from '../run/index.js';
import { analysisWidthOf, cutoffOf, unitsOf } from './analysis-settings.js';
import { deliveryOf, type DeliveryReading } from './delivery-settings.js';
import { SETTING_NAMES, typed, type Settings } from './names.js';
import { FORM_NAMING, type SettingNaming } from './naming.js';
import { passOf } from './pass-settings.js';
import { rigOf } from './rig-settings.js';
import { stabiliseOf, type StabiliseWish } from './stabilise-settings.js';

/** What the settings are read against. */
export interface SettingsReading {
  /** Deliveries by name; a function is called only when one is named. */
  readonly presets: DeliveryReading['presets'];
  /** Rig file whose entries stand where nothing was typed. */
  readonly file?: RigFile | undefined;
  /** How sentences name the settings; by the labels of the form unless given. */
  readonly naming?: SettingNaming | undefined;
}

/** Settings that have been read: lengths and times in the unit of the name. */
export interface ReadSettings {
  readonly rig: Rig;
  readonly delivery: Delivery;
  readonly pass: PassSheet;
  readonly units: Units | undefined;
  /** As typed: it takes the frame rate of the clip to read it. */
  readonly inPoint: string | undefined;
  /** As typed; the first frame left out. */
  readonly outPoint: string | undefined;
  readonly analysisWidthPx: number | undefined;
  readonly cutoffHz: number | undefined;
  readonly stabilise: StabiliseWish;
}

/**
 * Reads all settings; what was typed wins over the rig file.
 *
 * @throws TrundleError `argument-invalid` naming the setting and the value, `argument-unknown` on a name that is no setting,
 * `rig-invalid` on a delivery of the file that is not known and has no figures
 * @example readSettings({ focal: '35mm', speed: '20cm/s' }, { presets: DELIVERY_PRESETS }).rig // { focalLengthMm: 35, speedMps: 0.2 }
 */
export function readSettings(
  settings: Settings,
  { presets, file = { rig: {}, delivery: {}, pass: {} }, naming = FORM_NAMING }: SettingsReading,
): ReadSettings {
  refuseUnknown(settings);
  return {
    rig: rigOf(settings, file.rig, naming),
    delivery: deliveryOf(settings, file.delivery, { presets, naming }),
    pass: passOf(settings, file.pass, naming),
    units: unitsOf(settings, naming) ?? file.units,
    inPoint: typed(settings, 'in'),
    outPoint: typed(settings, 'out'),
    analysisWidthPx: analysisWidthOf(settings, naming),
    cutoffHz: cutoffOf(settings, naming),
    stabilise: stabiliseOf(settings, naming),
  };
}

function refuseUnknown(settings: Settings): void {
  const known: readonly string[] = SETTING_NAMES;
  const unknown = Object.keys(settings).find((name) => !known.includes(name));
  if (unknown !== undefined)
    throw new TrundleError(
      'argument-unknown',
      `There is no setting "${unknown}"; the nearest is "${nearestName(unknown, known)}".`,
    );
}
