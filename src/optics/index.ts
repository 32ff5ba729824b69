/** Camera model, sensor formats, lens distortion, rotations in the picture, shutter times. */
export * from './camera.js';
export * from './camera-for-frame.js';
export * from './exposure-time.js';
export * from './field-of-view.js';
export * from './lens-distortion.js';
export * from './projection.js';
export * from './rotation.js';
export * from './sensor-formats.js';
