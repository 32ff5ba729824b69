/** Rig files: every field optional, unknown names refused with the nearest right one, faults told in one sentence. */
import { describe, expect, it } from 'vitest';
import { TrundleError, parseRigFile } from '../../src/run/index.js';

describe('a rig file', () => {
  it('reads names at the top and names grouped under rig and delivery alike', () => {
    const flat = parseRigFile('{"focalLengthMm":35,"maxCropPercent":3}', 'a.json');
    const grouped = parseRigFile('{"rig":{"focalLengthMm":35},"delivery":{"maxCropPercent":3}}', 'a.json');
    expect(flat).toEqual({ rig: { focalLengthMm: 35 }, delivery: { maxCropPercent: 3 }, pass: {} });
    expect(grouped).toEqual(flat);
  });

  it('names the units of the report, and refuses others', () => {
    expect(parseRigFile('{"units": "imperial", "speedMps": 0.2}', 'a.json')).toEqual({
      rig: { speedMps: 0.2 },
      delivery: {},
      pass: {},
      units: 'imperial',
    });
    expect(() => parseRigFile('{"units": "cubits"}', 'a.json')).toThrow(/one of metric, imperial, both/);
  });

  it('may be empty', () => expect(parseRigFile('{}', 'a.json')).toEqual({ rig: {}, delivery: {}, pass: {} }));

  it.each([
    ['{"focalLenghtMm":35}', /focalLenghtMm.*nearest known one is "focalLengthMm"/],
    ['{"rig":{"speed":0.2}}', /"speed".*nearest known one is "speedMps"/],
    ['{"focalLengthMm":-35}', /"focalLengthMm" in "a.json" is -35/],
    [
      '{"focalLengthMm":"35mm"}',
      /"focalLengthMm" in "a.json" is "35mm"; it must be a number without its unit/,
    ],
    ['{"head":"wobbly"}', /"head".*one of locked, operated, selfLevelling/],
    ['[1]', /one JSON object/],
    ['{"rig":5}', /must be an object/],
    ['not json', /not JSON: a sign that does not belong there at line 1\.$/],
    ['{\n"head": locked\n}', /not JSON: .* at line 2\.$/],
    ['{\n"head":', /not JSON: it ends too early at line 2\.$/],
    ['{"pass":{"passNumber":1.5}}', /must be a whole number\.$/],
  ])('refuses %s with the name and the value', (text, sentence) => {
    expect(() => parseRigFile(text, 'a.json')).toThrow(TrundleError);
    expect(() => parseRigFile(text, 'a.json')).toThrow(sentence);
  });
});
