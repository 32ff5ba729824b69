/** Spectra of the vibration, what shakes and why, what the camera hides, and their section of the run document. */
export * from './types.js';
export * from './estimate/windows.js';
export * from './estimate/welch.js';
export { coherenceThreshold, crossSpectrum, type CrossSpectrum } from './estimate/cross-spectrum.js';
export {
  placeSpectrogram,
  spectrogram,
  type PlaceSpectrogram,
  type Spectrogram,
} from './estimate/spectrogram.js';
export { thirdOctaves, type ThirdOctaveLevel } from './estimate/third-octaves.js';
export { analyseSpectrum } from './analyse-spectrum.js';
export { picturePxPerUnit } from './picture-shift.js';
export { dominantFrequencyHz } from './dominant-frequency.js';
export { spectrumSection } from './spectrum-section.js';
export { speedSdShare } from './causes/known-causes.js';
export { causeInWords } from './causes/cause-words.js';
export type { OtherRun } from './causes/types.js';
