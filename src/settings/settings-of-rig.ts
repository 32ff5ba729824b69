/** A rig file as the words that would have been typed: the other way of reading settings. */
import { DELIVERY_PRESETS, type DeliveryPresets } from '../judge/index.js';
import type { RigFile } from '../run/index.js';
import { settingsOfDelivery } from './delivery-settings.js';
import type { Settings } from './names.js';
import { settingsOfPass } from './pass-settings.js';
import { settingsOfRigPart } from './rig-settings.js';

/**
 * The settings that give what a rig file gives, bit for bit: `readSettings` of them, with no file, is `readSettings` of nothing with
 * the file. An empty list is left out, and a tag that holds a comma becomes two.
 *
 * @param presets what names stand for; a delivery of any other name is the crew's own
 * @example settingsOfRig({ rig: { focalLengthMm: 28, wheelbaseM: 0.45 }, delivery: {}, pass: {} }) // { focal: "28mm", wheelbase: "450mm" }
 */
export function settingsOfRig(file: RigFile, presets: DeliveryPresets = DELIVERY_PRESETS): Settings {
  return {
    ...settingsOfRigPart(file.rig),
    ...settingsOfDelivery(file.delivery, presets),
    ...settingsOfPass(file.pass),
    ...(file.units === undefined ? {} : { units: file.units }),
  };
}
