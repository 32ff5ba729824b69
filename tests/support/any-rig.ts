/** Arbitrary rigs, deliveries and sheets within the bounds of their schemas, and names that are no one's own in JavaScript. */
import fc from 'fast-check';
import { evenly } from './evenly.js';

/** Names that every object has by birth. */
export const HOSTILE_NAMES = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'valueOf',
  'hasOwnProperty',
  '__defineGetter__',
] as const;

/** Up to a bound, down to figures that are written with an exponent; never -0, which is 0 once it is typed. */
const upTo = (most: number): fc.Arbitrary<number> =>
  fc.oneof(evenly(most / 1000, most), fc.double({ min: 1e-9, max: most, noNaN: true }));
const between = (least: number, most: number): fc.Arbitrary<number> =>
  fc
    .oneof(evenly(least, most), fc.double({ min: least, max: most, noNaN: true }))
    .map((value) => (value === 0 ? 0 : value));
const whole = (least: number, most: number): fc.Arbitrary<number> => fc.integer({ min: least, max: most });
/** Words without commas: a tag with one becomes two. */
const name = fc
  .string({ minLength: 1, maxLength: 40 })
  .map((text) => text.replaceAll(',', ' ').trim())
  .filter((text) => text !== '');

const rig = fc.record(
  {
    focalLengthMm: upTo(5000),
    sensorWidthMm: between(1, 200),
    focalPx: upTo(1e6),
    readoutMs: between(0, 100),
    shutterAngleDeg: between(0, 360),
    speedMps: upTo(30),
    travelM: upTo(5000),
    wheelbaseM: upTo(10),
    trackWidthM: upTo(10),
    wheelDiameterM: upTo(3),
    jointSpacingM: upTo(100),
    machinesHz: fc.array(upTo(2000), { minLength: 1, maxLength: 20 }),
    mountHz: upTo(200),
    mainsHz: fc.constantFrom(50 as const, 60 as const),
    cameraHeightM: upTo(50),
    cameraOffsetM: between(-1e6, 1e6),
    lensAzimuthDeg: between(-180, 180),
    head: fc.constantFrom('locked' as const, 'operated' as const, 'selfLevelling' as const),
    lensDistortion: fc.record({
      k1: between(-1, 1),
      k2: between(-1e-7, 1e-7),
      p1: fc.constant(0),
      p2: between(-1, 1),
      k3: fc.constantFrom(0, 0.5),
    }),
  },
  { requiredKeys: [] },
);
/** The width that a calibrated focal length counts in means nothing without one. */
const calibrated = fc
  .tuple(rig, fc.option(whole(16, 100_000), { nil: undefined }))
  .map(([given, focalPxWidth]) =>
    'focalPx' in given && focalPxWidth !== undefined ? { ...given, focalPxWidth } : given,
  );
const delivery = fc
  .record(
    {
      name: fc.constantFrom('phone', 'Web-HD', 'lobby wall'),
      widthPx: whole(16, 16384),
      heightPx: whole(16, 16384),
      maxCropPercent: between(0, 90),
      maxResidualPx: upTo(1000),
      viewingDistanceHeights: between(0.3, 30),
    },
    { requiredKeys: [] },
  )
  .filter((given) => given.name !== 'lobby wall' || Object.keys(given).length > 1);
const pass = fc.record(
  {
    production: name,
    unit: name,
    location: name,
    floor: name,
    lane: name,
    direction: fc.constantFrom('out' as const, 'back' as const),
    setup: name,
    wheels: name,
    track: name,
    operator: name,
    passNumber: whole(1, 9999),
    roll: name,
    slate: name,
    take: name,
    mark: fc.constantFrom('good' as const, 'noGood' as const),
    notes: name,
    tags: fc.uniqueArray(name, { minLength: 1, maxLength: 5 }),
  },
  { requiredKeys: [] },
);

/** A rig file with any of its entries. */
export const rigFile = fc
  .record(
    {
      rig: calibrated,
      delivery,
      pass,
      units: fc.constantFrom('metric' as const, 'imperial' as const, 'both' as const),
    },
    { requiredKeys: ['rig', 'delivery', 'pass'] },
  )
  // A plain object: records may come without a prototype, which a file never has.
  .map(({ rig: r, delivery: d, pass: p, ...rest }) => ({
    rig: { ...r },
    delivery: { ...d },
    pass: { ...p },
    ...rest,
  }));
