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
