/**
 * The sample clips of the project: four floors of one invented place, each rolled over by the same deck, with truth and rig.
 *
 * Deterministic: the same code gives the same files.
 */
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { Tools } from '../footage/index.js';
import type { PartialSynthOptions, SynthOptions } from './options.js';
import { resolveSynthOptions } from './resolve-options.js';
import { synthesise, type SynthesiseSettings } from './synthesise.js';

/** What the crew of the samples delivers: full HD, and a framing that can give one per cent. */
export const SAMPLE_DELIVERY = { widthPx: 1920, heightPx: 1080, maxCropPercent: 1 } as const;

/** One sample. */
export interface SampleClip {
  /** Name of the files. */
  readonly name: string;
  /** One line on it. */
  readonly about: string;
  readonly options: SynthOptions;
}

/** The dolly and camera that all samples share. */
const SHARED: PartialSynthOptions = {
  durationS: 6,
  fps: 25,
  widthPx: 1280,
  heightPx: 720,
  focalLengthMm: 35,
  speedMps: 0.3,
  cameraHeightM: 1,
  driftDeg: 0,
  shutterAngleDeg: 180,
  motionSamples: 5,
  noiseGrey: 0.4,
  crf: 15,
  preset: 'slow',
};

const SAMPLES: readonly { name: string; about: string; given: PartialSynthOptions }[] = [
  {
    name: 'dairy-hall-polished-concrete',
    about: 'sideways along the hall on polished concrete',
    given: { scene: 'dairy-hall', seed: 11, deck: { floor: { gdM3: 6e-7 } } },
  },
  {
    name: 'tiled-corridor',
    about: 'forwards down the corridor over tiles, a joint every 0.3 m',
    given: {
      scene: 'tiled-corridor',
      seed: 12,
      move: 'pushIn',
      focalLengthMm: 28,
      deck: {
        floor: { gdM3: 2.5e-7, joints: { spacingM: 0.3, lippageMm: 1, gapWidthMm: 5, gapDepthMm: 2 } },
      },
    },
  },
  {
    name: 'plywood-loft',
    about: 'sideways through the loft on plywood sheets',
    given: {
      scene: 'plywood-loft',
      seed: 13,
      deck: { floor: { gdM3: 5e-5, joints: { spacingM: 0.61, lippageMm: 2, gapWidthMm: 3, gapDepthMm: 2 } } },
    },
  },
  {
    name: 'aluminium-rail',
    about: 'sideways along the hall on an aluminium rail',
    given: { scene: 'aluminium-rail', seed: 14, deck: { floor: { gdM3: 4e-9 } } },
  },
];

/** The samples with their settings in full. */
export function sampleClips(): SampleClip[] {
  return SAMPLES.map(({ name, about, given }) => ({
    name,
    about,
    options: resolveSynthOptions({ ...SHARED, ...given }),
  }));
}

/**
 * Films all sample clips into a folder: NAME.mp4, NAME.truth.json, NAME.rig.json each.
 *
 * @param folder made when missing
 * @returns the clip files
 */
export async function writeSampleClips(
  folder: string,
  tools: Tools,
  settings: SynthesiseSettings = {},
): Promise<string[]> {
  await mkdir(folder, { recursive: true });
  const clips: string[] = [];
  for (const { name, options } of sampleClips()) {
    const stem = path.join(folder, name);
    const clipFile = `${stem}.mp4`;
    await synthesise(
      options,
      { clipFile, truthFile: `${stem}.truth.json`, rigFile: `${stem}.rig.json` },
      tools,
      { delivery: SAMPLE_DELIVERY, ...settings },
    );
    clips.push(clipFile);
  }
  return clips;
}
