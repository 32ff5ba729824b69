/** The parts of the run document on the clip as its file tells it, and on how well it could be followed. */
import { z } from 'zod';
import { warningSchema } from './warning-schema.js';

const num = z.number();
const interval = z.tuple([num, num]);

export const clipSchema = z.strictObject({
  file: z.string().describe('Name of the clip, without folders.'),
  sha256: z.string().describe('SHA-256 checksum of the file, hexadecimal.'),
  codec: z.string().describe("Codec of the picture, by FFmpeg's name."),
  pixelFormat: z.string().describe("Pixel format of the stored picture, by FFmpeg's name."),
  bitDepth: num.describe('Bits of one sample of the picture.'),
  widthPx: num.describe('Width as shown, px: after rotation and pixel aspect.'),
  heightPx: num.describe('Height as shown, px: after rotation and pixel aspect.'),
  rotationDeg: num.describe(
    'How far the stored picture is turned clockwise to stand upright: 0, 90, 180 or 270.',
  ),
  pixelAspect: num.describe('Width of one stored pixel over its height.'),
  fps: num.describe('Frame rate, frames per second.'),
  fpsFraction: z.string().describe('Exact frame rate as a fraction, such as "24000/1001".'),
  variableRate: z.boolean().describe('True when the clip has no steady frame rate.'),
  interlaced: z.boolean().describe('True when the clip is interlaced; it is then deinterlaced first.'),
  interCoded: z
    .boolean()
    .nullable()
    .describe('True when any frame was coded from another (P or B); null when the file does not tell.'),
  colourTransfer: z
    .string()
    .nullable()
    .describe("Transfer characteristic of the colours, by FFmpeg's name; null when the file does not say."),
  hasAudio: z.boolean().describe('True when the file holds sound.'),
  frameCount: num.describe('Frames that were measured: one stretch without cuts, repeated frames left out.'),
  durationS: num.describe('Length of the video stream, s; 0 when the file does not tell.'),
  rangeS: interval.describe('Beginning and end of what was measured, seconds from the start of the clip.'),
  timecodeStart: z
    .string()
    .nullable()
    .describe(
      'Timecode of the first frame, HH:MM:SS:FF or (drop frame) HH:MM:SS;FF; null when the file has none.',
    ),
});

export const trackingSchema = z.strictObject({
  analysisWidthPx: num.describe('Width of the pictures that were analysed, px.'),
  analysisHeightPx: num.describe('Height of the pictures that were analysed, px.'),
  featuresMedian: num.describe('Points that were followed at a time, median over the frames.'),
  inlierShare: num.describe('Share of the followed points that the fit of the camera motion kept, 0..1.'),
  refinedShare: num.describe(
    'Share of the observations that were refined by affine templates, 0..1: those of a move that changes scale.',
  ),
  noisePx: num
    .nullable()
    .describe(
      'Noise of a followed point, px of the analysed picture along one axis (1 sigma); null when unknown.',
    ),
  coverage: num.describe('Share of a grid of 16 x 9 cells that holds a point, mean over the frames, 0..1.'),
  rejectedFrames: num.describe('Frames that repeat the one before and were left out.'),
  warnings: z.array(warningSchema).describe('What to know about how the clip could be followed.'),
});
