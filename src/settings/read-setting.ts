/** One setting by itself, as it is being typed: whether it will do, and what it was understood as. */
import { resolveDelivery } from '../judge/index.js';
import { TrundleError, inUnits, limitFigure, type Delivery, type Rig } from '../run/index.js';
import { settingTexts } from '../texts/index.js';
import { analysisWidthOf, cutoffOf, unitsOf } from './analysis-settings.js';
import { deliveryEntryOf, type DeliveryReading } from './delivery-settings.js';
import {
  DELIVERY_SETTINGS,
  PASS_SETTINGS,
  RIG_SETTINGS,
  type DeliverySetting,
  type PassSetting,
  type RigSetting,
  type SettingName,
} from './names.js';
import { FORM_NAMING } from './naming.js';
import { passOf } from './pass-settings.js';
import type { SettingsReading } from './read-settings.js';
import { rigEntryOf } from './rig-settings.js';
import { stabiliseOf } from './stabilise-settings.js';

/** What came of one setting. */
export interface SettingReading {
  /** Why it will not do, in one sentence; null when it will. */
  readonly refusal: string | null;
  /** What it was understood as, with units, metric and in feet; null when there is no more to it than the words typed. */
  readonly understood: string | null;
}

const words = settingTexts.understood;

/**
 * Reads one setting. In and out points are taken as they are: it takes the frame rate of the clip to read them.
 *
 * @example readSetting('speed', '20cm/s', { presets }).understood // "0.2 m/s = 0.66 ft/s"
 * @example readSetting('speed', 'fast', { presets }).refusal // "\"fast\" is not a speed with its unit; ..."
 */
export function readSetting(
  name: SettingName,
  text: string,
  { presets, naming = FORM_NAMING }: Omit<SettingsReading, 'file'>,
): SettingReading {
  try {
    return { refusal: null, understood: understood(name, text, { presets, naming }) };
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return { refusal: error.message, understood: null };
  }
}

function understood(name: SettingName, text: string, reading: DeliveryReading): string | null {
  const { naming } = reading;
  const alone = { [name]: text };
  if (among(RIG_SETTINGS, name)) return rigWords(name, rigEntryOf(name, text, naming));
  if (among(DELIVERY_SETTINGS, name))
    return deliveryWords(name, deliveryEntryOf(name, text, reading), reading);
  if (among(PASS_SETTINGS, name)) return passWords(name, passOf(alone, {}, naming).tags ?? []);
  switch (name) {
    case 'smoothing':
    case 'stabilise':
    case 'take': {
      const { smoothingS, takeS } = stabiliseOf(alone, naming);
      return secondsWords(smoothingS ?? takeS);
    }
    case 'width':
      return ofFigure(analysisWidthOf(alone, naming), words.px);
    case 'cutoff':
      return ofFigure(cutoffOf(alone, naming), words.hz);
    case 'units':
      void unitsOf(alone, naming);
      return null;
    default:
      return null;
  }
}

function among<Name extends SettingName>(names: readonly Name[], name: SettingName): name is Name {
  return (names as readonly SettingName[]).includes(name);
}

function rigWords(name: RigSetting, rig: Rig): string | null {
  switch (name) {
    case 'focal':
      return ofFigure(rig.focalLengthMm, words.mm);
    case 'sensor':
      return ofFigure(rig.sensorWidthMm, words.mmWide);
    case 'focal-px':
      return ofFigure(rig.focalPx, (px) => words.focalPx(px, rig.focalPxWidth ?? null));
    case 'readout':
      return rig.readoutMs === 0 ? words.globalShutter : ofFigure(rig.readoutMs, words.ms);
    case 'shutter':
      return ofFigure(rig.shutterAngleDeg, words.deg);
    case 'speed':
      return ofFigure(rig.speedMps, (figure) => inBoth(words.mps(figure)));
    case 'travel':
      return lengthWords(rig.travelM);
    case 'wheelbase':
      return lengthWords(rig.wheelbaseM);
    case 'track-width':
      return lengthWords(rig.trackWidthM);
    case 'wheel-diameter':
      return lengthWords(rig.wheelDiameterM);
    case 'joint-spacing':
      return lengthWords(rig.jointSpacingM);
    case 'camera-height':
      return lengthWords(rig.cameraHeightM);
    case 'camera-offset':
      return lengthWords(rig.cameraOffsetM);
    case 'machine':
      return rig.machinesHz?.map((hz) => words.hz(limitFigure(hz))).join(', ') ?? null;
    case 'mount':
      return ofFigure(rig.mountHz, words.hz);
    case 'mains':
      return ofFigure(rig.mainsHz, words.hz);
    case 'lens-azimuth':
      return rig.lensAzimuthDeg === undefined
        ? null
        : words.azimuth(limitFigure(Math.abs(rig.lensAzimuthDeg)), rig.lensAzimuthDeg);
    case 'head':
    case 'lens-distortion':
      return null;
  }
}

function deliveryWords(
  name: DeliverySetting,
  delivery: Delivery,
  { presets }: DeliveryReading,
): string | null {
  const table = typeof presets === 'function' ? presets() : presets;
  const { widthPx, heightPx, maxCropPercent, viewingDistanceHeights } = resolveDelivery(delivery, table);
  switch (name) {
    case 'for':
      return words.delivery(
        words.size(widthPx, heightPx),
        limitFigure(maxCropPercent),
        limitFigure(viewingDistanceHeights),
      );
    case 'deliver':
      return words.size(widthPx, heightPx);
    case 'max-crop':
      return ofFigure(delivery.maxCropPercent, words.percentOfWidth);
    case 'max-residual':
      return ofFigure(delivery.maxResidualPx, words.pxRms);
    case 'viewing':
      return ofFigure(delivery.viewingDistanceHeights, words.heights);
    case 'delivery-name':
      return null;
  }
}

function passWords(name: PassSetting, tags: readonly string[]): string | null {
  return name === 'tags' && tags.length > 1 ? words.tags(tags) : null;
}

function ofFigure(value: number | undefined, say: (figure: string) => string): string | null {
  return value === undefined ? null : say(limitFigure(value));
}

/** Below a metre in millimetres, as parts of a rig are told. */
function lengthWords(valueM: number | undefined): string | null {
  if (valueM === undefined) return null;
  return inBoth(Math.abs(valueM) < 1 ? words.mm(limitFigure(1000 * valueM)) : words.m(limitFigure(valueM)));
}

function inBoth(metric: string): string {
  return words.equal(metric, inUnits(metric, 'imperial'));
}

function secondsWords(valueS: number | undefined): string | null {
  if (valueS === undefined) return null;
  const minutes = Math.floor(valueS / 60);
  return minutes === 0
    ? words.s(limitFigure(valueS))
    : words.minutes(minutes, limitFigure(valueS - 60 * minutes));
}
