/** The section of the run document on frequencies: spectra, bands, peaks, what shakes and why, what the camera hides. */
import { z } from 'zod';
import { AXES } from './axes.js';
import { AXIS_NAMES_SAY, densitySchema } from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);
const series = z.array(num);
const axis = z.enum(AXES);

/** What a source of shake may be. */
export const CAUSES = ['wheel', 'joint', 'machine', 'mount', 'lamp', 'unknown'] as const;
const cause = z.enum(CAUSES);
const CAUSES_SAY = 'wheel, joint, machine, mount, lamp (light that flickers, no motion) or unknown';

const shape = z
  .enum(['line', 'resonance'])
  .describe('line: one frequency; resonance: something that rings, broader than a line.');
const heardAs = z
  .enum(['tone', 'beat'])
  .describe('tone: in the sound itself; beat: in how its loudness swells.');

/** One-third octave (IEC 61260-1, base ten), exact edges, nominal label. */
export const thirdOctaveSchema = z.strictObject({
  label: z.string().describe('Nominal name of the band, such as "6.3 Hz".'),
  centreHz: num.describe('Exact middle of the band, Hz.'),
  fromHz: num.describe('Lower edge of the band, Hz.'),
  toHz: num.describe('Upper edge of the band, Hz.'),
  rms: orNull.describe(
    'Shake in the band, noise taken off, RMS in deg, mm or per cent of the median distance; null below the noise, then belowRms stands.',
  ),
  ci95: interval.nullable().describe('95 % interval of rms, same unit; null below the noise.'),
  belowRms: num.describe('Upper bound of the shake in the band, RMS, same unit.'),
  exposureGain: num.describe(
    'Share of the amplitude that the shutter lets through at the centre, 0..1; the figures are as seen.',
  ),
});

/** PSD over time, one row for each time, for one axis. */
export const spectrogramSchema = z.strictObject({
  windowS: num.describe('Length of the stretch behind each row, s.'),
  resolutionHz: num.describe('Width of a cell in frequency, Hz.'),
  timeS: series.describe('Middle of each row, seconds from the start of the clip.'),
  placeM: series
    .nullable()
    .describe(
      'Where the dolly was at the middle of each row, m from its place at the first frame; null without travel.',
    ),
  freqHz: series.describe('Frequency of each column, Hz.'),
  axes: z
    .partialRecord(axis, z.array(series))
    .describe(
      'Density by axis, one row for each time, in deg^2/Hz, mm^2/Hz or percent^2/Hz, to three digits; axes that cannot be told are missing.',
    ),
});

export const peakSchema = z.strictObject({
  axis: axis.describe(`Axis that shows the peak: ${AXIS_NAMES_SAY}.`),
  freqHz: num.describe('Frequency as seen, Hz.'),
  ci95Hz: interval.describe('95 % interval of the frequency, Hz.'),
  widthHz: num.describe('Full width at half power, Hz.'),
  rms: num.describe('Shake of this peak as seen, background taken off, RMS in unit.'),
  rmsCi95: interval.describe('95 % interval of rms, in unit.'),
  unit: z.string().describe('Unit of rms: deg, mm or percent (of the median distance).'),
  prominenceDb: num.describe('Height over the background, dB.'),
  shape,
  wavelengthM: orNull.describe(
    'Wavelength on the floor, m, for the frequency of the motion itself; null without speed.',
  ),
  cause: cause.describe(`Cause of its source: ${CAUSES_SAY}.`),
  confidence: orNull.describe('Probability of that cause, 0..0.95; null when unknown.'),
  source: z.number().int().describe('Place of its source in sources, from 0.'),
  mayBeRipple: z
    .boolean()
    .describe('True where it may be a ripple that two axles print on the spectrum of any floor.'),
});

const candidateSchema = z.strictObject({
  cause: cause.describe(`What it may be: ${CAUSES_SAY}.`),
  order: z
    .number()
    .int()
    .describe(
      "Multiple of the wheel's turn or of the joints' beat; number of the given machine, from 1; else 1.",
    ),
  trueHz: num.describe('Frequency of the motion itself, before frames folded it, Hz.'),
  probability: num.describe('Probability of this explanation, 0..0.95.'),
});

export const sourceSchema = z.strictObject({
  freqHz: num.describe('Frequency as seen, Hz.'),
  ci95Hz: interval.describe('95 % interval of the frequency, Hz.'),
  axes: z.array(axis).describe('Axes that show it.'),
  shape,
  shiftPx: num.describe(
    'RMS shift of the picture by this source as seen, px of the clip; sources that shift it most come first.',
  ),
  cause: cause.describe(`What it is: ${CAUSES_SAY}.`),
  confidence: orNull.describe('Probability of the cause that is named, 0..0.95; null when unknown.'),
  reason: z.string().nullable().describe('Why no cause is named, a plain sentence; null when one is.'),
  candidates: z
    .array(candidateSchema)
    .describe('The likeliest explanations, likeliest first, three at most.'),
  trueHz: num.describe('Frequency of the motion itself by the named cause, else as seen, Hz.'),
  exposureGain: num.describe('Share of the amplitude that the shutter let through at trueHz, 0..1.'),
  trueRms: orNull.describe(
    'RMS of the motion itself on the axis that shows it most, in deg, mm or per cent of the median distance; null where the shutter let too little through to tell.',
  ),
  trueRmsAxis: axis.describe(`The axis that shows it most: ${AXIS_NAMES_SAY}.`),
  couldBeHz: series.describe(
    'Every frequency up to the top of what was asked that frames would show here, Hz, lowest first.',
  ),
  harmonic: z
    .strictObject({
      family: z.number().int().describe('Number of the series, from 1: sources of one series share it.'),
      baseHz: num.describe('Base frequency of the series, Hz.'),
      order: z.number().int().describe('Multiple of the base that this source is.'),
    })
    .nullable()
    .describe('The series of whole multiples that it belongs to; null when it belongs to none.'),
  followsTravel: orNull.describe(
    'Probability of a constant wavelength, 0..1, from how the speed varied in this pass; null when it did not vary enough.',
  ),
  sound: z
    .strictObject({
      trueHz: num.describe('Frequency of the motion by the sound, Hz.'),
      kind: heardAs,
      probability: num.describe('Probability that this is what lies behind the source, 0..0.95.'),
    })
    .nullable()
    .describe('What the sound says of it; null when it says nothing.'),
  otherRun: z
    .strictObject({
      otherHz: orNull.describe('Frequency of its partner in the other run, Hz; null when it has none.'),
      behaves: z
        .enum(['constantFrequency', 'constantWavelength', 'neither', 'open'])
        .describe(
          'From run to run: constantFrequency (as a machine), constantWavelength (as wheels and joints), neither or open (cannot be told).',
        ),
      probability: orNull.describe('Probability of what it is said to be, 0..1; null when open.'),
      trueHz: orNull.describe(
        'Frequency of the motion itself, Hz, where both runs agree on one that frames folded; else null.',
      ),
      reason: z.string().nullable().describe('Why it is open or gone, a plain sentence; null otherwise.'),
    })
    .nullable()
    .describe('How it behaves in the other run; null when none was compared with.'),
  wobblePx: orNull.describe(
    'Largest bend of an upright line within one frame by this shake as seen, px of the clip; null without a readout.',
  ),
});

export const spectrumSchema = z.strictObject({
  method: z.string().describe('How the densities were made, in words.'),
  resolutionHz: num.describe('Distance of two frequencies that can be told apart, Hz.'),
  noiseBandwidthHz: num.describe('Equivalent noise bandwidth of the window, Hz.'),
  degreesOfFreedom: num.describe('Degrees of freedom (chi-square) of each density.'),
  ci95Factors: interval.describe('Times the density: its 95 % interval, lower and upper.'),
  nyquistHz: num.describe('Half the frame rate, Hz: faster shake shows at a lower frequency.'),
  speedMps: orNull.describe(
    'Mean speed under way that causes were read against, m/s; null when it is not known.',
  ),
  series: z
    .partialRecord(axis, densitySchema)
    .describe('Power spectral density of the shake by axis; axes that cannot be told are missing.'),
  noiseFloor: z
    .partialRecord(axis, num)
    .describe('Density of the measurement noise by axis, in the unit of its series.'),
  background: z
    .partialRecord(axis, densitySchema)
    .describe('The level without peaks that peaks stand out of, by axis.'),
  thirdOctaves: z
    .partialRecord(axis, z.array(thirdOctaveSchema))
    .describe('Shake in one-third octaves (IEC 61260-1, base ten), by axis.'),
  spectrogram: spectrogramSchema
    .nullable()
    .describe('How the density changes over the pass; null for a clip that is too short.'),
  peaks: z.array(peakSchema).describe('Peaks, in the order of the axes.'),
  sources: z
    .array(sourceSchema)
    .describe('What shakes: peaks of any axes at one frequency, what shifts the picture most first.'),
  falsePeaks: z
    .strictObject({
      inHundred: num.describe(
        'Of 100 passes over a floor alone that many show a false peak on such an axis.',
      ),
      axes: z.array(axis).describe('The axes that were searched so.'),
    })
    .nullable()
    .describe('How often a peak is false; null without an axis for which that is known.'),
  suggestedSpeed: z
    .strictObject({
      mps: num.describe('The speed that they speak for, m/s.'),
      ci95Mps: interval.describe('95 % interval of that speed, m/s.'),
      givenMps: num.describe('The speed that causes were read against, m/s.'),
      confidence: num.describe('Probability that they can tell the speed at all, 0..0.95.'),
      fromSources: z.number().int().describe('How many sources speak for it.'),
    })
    .nullable()
    .describe('Speed that the sources speak for; never used by any figure. Null when they speak for none.'),
  sound: z
    .strictObject({
      used: z.boolean().describe('False when the sound was not usable; reason says why.'),
      reason: z.string().nullable().describe('Why it was not usable, a plain sentence; null when it was.'),
      levelDb: orNull.describe(
        'Mean level, dB below full scale (0 is a square wave at full scale); null when unknown.',
      ),
      lines: z
        .array(
          z.strictObject({
            freqHz: num.describe('Frequency of the tone or of the beat, Hz.'),
            kind: heardAs,
            strength: num.describe('Power of the line over its background in one resolution cell, no unit.'),
          }),
        )
        .describe('Tones, then beats, each lowest first.'),
    })
    .nullable()
    .describe('What was heard; null when the clip has no sound.'),
  flicker: z
    .strictObject({
      lampHz: num.describe("Frequency of the lamp's light: 50, 60, 100 or 120 Hz."),
      seenHz: num.describe('Where frames show it, Hz.'),
      depthPercent: num.describe(
        'Depth of the flicker, per cent: (brightest - darkest) / (brightest + darkest).',
      ),
      inBands: z
        .boolean()
        .describe('True where rows see the lamp at different times: bands roll through the picture.'),
    })
    .nullable()
    .describe('Light that flickers; null when none was found.'),
  comparedWith: z
    .strictObject({
      name: z.string().describe('Name of the other run.'),
      speedMps: orNull.describe('Its mean speed, m/s; null when not known.'),
    })
    .nullable()
    .describe('The other run that sources were compared with; null when none was.'),
  notes: z.array(z.string()).describe('What limits the naming of causes, plain sentences.'),
});
