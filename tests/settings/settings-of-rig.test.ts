/** A rig file as typed words: reading them gives the very same rig, delivery, sheet and units. */
import fs from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS as presets } from '../../src/judge/index.js';
import { parseRigFile, type RigFile } from '../../src/run/index.js';
import { readSettings, settingsOfRig } from '../../src/settings/index.js';

/** Up to a bound, down to figures that are written with an exponent; never -0, which is 0 once it is typed. */
const upTo = (most: number) => fc.double({ min: 1e-9, max: most, noNaN: true }).filter((value) => value > 0);
const between = (least: number, most: number) =>
  fc.double({ min: least, max: most, noNaN: true }).map((value) => (value === 0 ? 0 : value));
const whole = (least: number, most: number) => fc.integer({ min: least, max: most });
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
    mainsHz: fc.constantFrom(50, 60),
    cameraHeightM: upTo(50),
    cameraOffsetM: between(-1e6, 1e6),
    lensAzimuthDeg: between(-180, 180),
    head: fc.constantFrom('locked', 'operated', 'selfLevelling'),
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
    direction: fc.constantFrom('out', 'back'),
    setup: name,
    wheels: name,
    track: name,
    operator: name,
    passNumber: whole(1, 9999),
    roll: name,
    slate: name,
    take: name,
    mark: fc.constantFrom('good', 'noGood'),
    notes: name,
    tags: fc.uniqueArray(name, { minLength: 1, maxLength: 5 }),
  },
  { requiredKeys: [] },
);
const rigFile = fc.record(
  { rig: calibrated, delivery, pass, units: fc.constantFrom('metric', 'imperial', 'both') },
  { requiredKeys: ['rig', 'delivery', 'pass'] },
);

describe('a rig file as typed words', () => {
  it('gives the very same values when it is read', () => {
    fc.assert(
      fc.property(rigFile, (values) => {
        const file = parseRigFile(JSON.stringify(values), 'rig.json');
        expect(readSettings(settingsOfRig(file), { presets })).toEqual(readSettings({}, { presets, file }));
      }),
      { numRuns: 400, seed: 11 },
    );
  });

  it('is written as a crew would type it', () => {
    const text = fs.readFileSync(
      new URL('../../sample-clips/tiled-corridor.rig.json', import.meta.url),
      'utf8',
    );
    expect(settingsOfRig(parseRigFile(text, 'rig.json'))).toEqual({
      focal: '28mm',
      sensor: '36mm',
      readout: '0ms',
      shutter: '180deg',
      speed: '0.3m/s',
      travel: '1.7549m',
      wheelbase: '450mm',
      'track-width': '400mm',
      'wheel-diameter': '80mm',
      'joint-spacing': '300mm',
      'camera-height': '1m',
      'camera-offset': '50mm',
      'lens-azimuth': '0deg',
      head: 'locked',
      deliver: '1920x1080',
      'max-crop': '1%',
    });
  });

  it('names a delivery of the table as the table does, and any other as the crew’s own', () => {
    const named = (delivery: RigFile['delivery'], known = presets) =>
      settingsOfRig({ rig: {}, delivery, pass: {} }, known);
    expect(named({ name: 'Web-HD' })).toEqual({ for: 'web HD' });
    expect(named({ name: 'lobby wall', widthPx: 2560 })).toEqual({
      'delivery-name': 'lobby wall',
      deliver: '2560 wide',
    });
    expect(named({ name: 'Lobby Wall' }, { 'lobby wall': { widthPx: 2560 } })).toEqual({ for: 'lobby wall' });
  });
});
