import { describe, expect, it } from 'vitest';
import {
  DELIVERY_PRESETS,
  assumedDelivery,
  deliveriesFile,
  deliveryByName,
  parseDeliveries,
  presetName,
  resolveDelivery,
} from '../../src/judge/index.js';
import { TrundleError, deliverySchema } from '../../src/run/index.js';

describe('a named delivery', () => {
  it.each([
    ['web HD', 'web HD'],
    ['web-hd', 'web HD'],
    ['Web_HD ', 'web HD'],
    ['webhd', 'web HD'],
    ['PHONE', 'phone'],
    ['phone, upright', 'phone upright'],
    ['phones', null],
    ['', null],
  ])('is found for "%s": %s', (written, name) => {
    expect(presetName(written)).toBe(name);
  });

  it('gives every figure, so that nothing of it counts as assumed', () => {
    for (const [name, preset] of Object.entries(DELIVERY_PRESETS)) {
      const resolved = resolveDelivery({ name });
      expect(resolved).toMatchObject({ name, ...preset });
      expect(deliverySchema.parse(resolved)).toEqual(resolved);
      expect(assumedDelivery({ name })).toEqual([]);
    }
  });

  it('lets the shake that may stay follow from size and distance', () => {
    const limits = Object.keys(DELIVERY_PRESETS).map((name) => resolveDelivery({ name }).maxResidualPx);
    // 0.83 px times lines x heights over 1080 x 3.1, to two digits.
    expect(limits).toEqual([1.3, 1.3, 0.83, 0.8, 1]);
  });

  it('gives way to what is given beside it; a size is taken as a whole', () => {
    expect(resolveDelivery({ name: 'Phone', maxCropPercent: 3 })).toMatchObject({
      name: 'phone',
      widthPx: 1920,
      maxCropPercent: 3,
      viewingDistanceHeights: 5,
    });
    expect(resolveDelivery({ name: 'phone upright', widthPx: 1280 })).toMatchObject({
      widthPx: 1280,
      heightPx: 720,
      viewingDistanceHeights: 2.8,
    });
    expect(resolveDelivery({ name: 'phone', viewingDistanceHeights: 10 }).maxResidualPx).toBe(2.7);
    expect(resolveDelivery({ name: 'phone', maxResidualPx: 0.4 }).maxResidualPx).toBe(0.4);
  });

  it('may be a name of the crew that fills in nothing', () => {
    const own = { name: 'museum wall', widthPx: 2560 };
    expect(resolveDelivery(own)).toEqual({ ...resolveDelivery({ widthPx: 2560 }), name: 'museum wall' });
    expect(deliveryByName(own, DELIVERY_PRESETS)).toEqual(own);
    expect(assumedDelivery(own)).toHaveLength(3);
  });
});

describe('a file of deliveries', () => {
  const read = (value: unknown) => parseDeliveries(JSON.stringify(value), 'deliveries.json');

  it('reads back as the built-in ones when it was just written', () => {
    expect(parseDeliveries(deliveriesFile(), 'deliveries.json')).toEqual(DELIVERY_PRESETS);
  });

  it('overrides the fields that it gives, adds its own names at the end, and leaves the others', () => {
    const presets = read({
      'Web HD': { maxCropPercent: 2 },
      'museum wall': { widthPx: 2560, heightPx: 720 },
    });
    expect(presets['web HD']).toEqual({ ...DELIVERY_PRESETS['web HD'], maxCropPercent: 2 });
    expect(Object.keys(presets)).toEqual([...Object.keys(DELIVERY_PRESETS), 'museum wall']);
    expect(presets['phone']).toEqual(DELIVERY_PRESETS['phone']);
    expect(resolveDelivery({ name: 'Museum-Wall' }, presets)).toMatchObject({
      name: 'museum wall',
      widthPx: 2560,
      maxCropPercent: 5,
    });
    expect(read({ 'phone upright': { heightPx: 1280 } })['phone upright'].widthPx).toBeUndefined();
  });

  it('does not change the built-in ones', () => {
    const before = structuredClone(DELIVERY_PRESETS);
    read({ phone: { maxCropPercent: 1, widthPx: 640 } });
    expect(DELIVERY_PRESETS).toEqual(before);
  });

  it.each([
    ['[]', /must be one JSON object/],
    ['{"phone": 3}', /"phone" in "deliveries.json" must be an object with widthPx/],
    ['{"phone": {"maxCrop": 3}}', /unknown name "maxCrop"; the nearest known one is "maxCropPercent"/],
    ['{"phone": {"name": "x"}}', /unknown name "name"/],
    [
      '{"phone": {"maxCropPercent": 95}}',
      /"maxCropPercent" of the delivery "phone".* is 95; it must be at most 90/,
    ],
    ['{"phone": {"widthPx": "1920px"}}', /is "1920px"; it must be a number without its unit/],
    ['{"phone": {"viewingDistanceHeights": 0}}', /it must be at least 0.3/],
    ['{"Phone": {}, "phone": {}}', /hold "phone" twice/],
    ['{" - ": {}}', /a name needs a letter or a figure/],
    ['{"phone": {}', /are not JSON: it ends too early at line 1\.$/],
    ['{\n"phone": {},,\n}', /are not JSON: a sign that does not belong there at line 2\.$/],
    ['{"phone": {"widthPx": 3840.5}}', /is 3840.5; it must be a whole number\.$/],
  ])('is refused: %s', (text, message) => {
    try {
      parseDeliveries(text, 'deliveries.json');
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(TrundleError);
      expect((error as TrundleError).code).toBe('delivery-invalid');
      expect((error as TrundleError).exitStatus).toBe(2);
      expect((error as TrundleError).message).toMatch(message);
    }
  });
});
