/** Camera model, sensor formats, lens distortion, rotations in the picture, shutter times, calibration board. */
export * from './camera.js';
export * from './board-views.js';
export * from './calibration-board.js';
export * from './camera-for-frame.js';
export * from './exposure-time.js';
export * from './field-of-view.js';
export * from './lens-distortion.js';
export * from './lens-terms.js';
export * from './lens-uncertainty.js';
export * from './projection.js';
export * from './rotation.js';
export * from './sensor-formats.js';
