/** Clips: find FFmpeg, read what a clip is, decode it to grey frames with time stamps, write clips. */
export * from './types.js';
export * from './tools.js';
export * from './encode.js';
export * from './sha256.js';
export * from './probe.js';
export * from './analysis-size.js';
export * from './decode.js';
export * from './picture.js';
export * from './sharpest-frames.js';
export { outputFormat, planeFormatOf } from './plane-format.js';
export type { PlaneCodec, PlaneFormat, PlaneGeometry } from './plane-format.js';
export * from './decode-planes.js';
export type { Samples } from './turn-plane.js';
export * from './even-frames.js';
export * from './encode-planes.js';
export { checkOutput } from './output-clip.js';
export type { SoundRecord } from './sound-tracks.js';
export * from './start-timecode.js';
