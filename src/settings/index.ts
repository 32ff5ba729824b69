/** Settings of a measurement as people type them, for every shell alike: read, checked one by one, and written back from a rig file. */
export { listOf, wordsOf } from './figures-as-typed.js';
export { deliveryOf, type DeliveryReading } from './delivery-settings.js';
export * from './names.js';
export * from './naming.js';
export { passOf } from './pass-settings.js';
export * from './read-setting.js';
export * from './read-settings.js';
export { rigOf } from './rig-settings.js';
export * from './settings-of-rig.js';
export { STABILISE_CHOICES, stabiliseOf, type StabiliseWish } from './stabilise-settings.js';
export { unitsOf } from './analysis-settings.js';
