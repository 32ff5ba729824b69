/** Camera model, sensor formats, lens distortion, shutter times. */
export * from './camera.js';
