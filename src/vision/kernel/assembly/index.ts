/** The inner loops of tracking as SIMD WebAssembly; all memory is laid out by layout.ts, nothing is allocated here. */
export { blurRows } from './blur';
export { halveRows, relightRows } from './pyramid';
export { padRows } from './mirror';
export { cornerStrength } from './corner';
export { localMaxima } from './maxima';
export { followPoints } from './lucas-kanade';
export { cutTemplate } from './cut-template';
export { matchTemplate } from './match-template';
