/** What holds for settings whatever is typed: each is understood or refused in one sentence, alone as among others. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OPTION_NAMING } from '../../src/cli/option-naming.js';
import { DELIVERY_PRESETS as presets } from '../../src/judge/index.js';
import { TrundleError, deliverySchema, passSheetSchema, rigSchema } from '../../src/run/index.js';
import { SETTING_NAMES, readSetting, readSettings, type Settings } from '../../src/settings/index.js';
import { HOSTILE_NAMES } from '../support/any-rig.js';

const name = fc.constantFrom(...SETTING_NAMES);

/** What people type, well and badly, and what nobody types. */
const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.stringMatching(/^[-+−0-9.,:;/'"x%°= a-z]{0,16}$/),
  fc
    .tuple(
      fc.constantFrom('', '-0', '0', '5', '-3.5', '1,5', '35', '180', '2666', '9'.repeat(400), '1e9'),
      fc.constantFrom(
        '',
        'mm',
        'm',
        'cm/s',
        'ms',
        's',
        'deg',
        'Hz',
        'px',
        '%',
        'H',
        'in',
        ' of 3840',
        ' wide',
        'rpm',
      ),
    )
    .map((parts) => parts.join('')),
  fc.constantFrom(
    'k1=-0,12, k2=0.03',
    'k1=-0',
    'k9=1',
    'full-frame',
    'Super 35',
    'good',
    'out',
    'keep-move',
    'locked',
  ),
  fc.constantFrom(...HOSTILE_NAMES),
  fc.string({ minLength: 150, maxLength: 250 }),
);

/** Every number within a value; JSON alone would hide NaN and -0. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

/** @param words what was typed: repeated as it is, and may hold anything */
function expectOneSentence(sentence: string, words: string): void {
  expect(sentence).toMatch(/\.$/);
  expect(sentence.replaceAll(words, '')).not.toMatch(/NaN|\[object|function|at .*\.ts:/);
}

describe('a setting', () => {
  it('is understood or refused, and what it is understood as holds no NaN', () => {
    fc.assert(
      fc.property(name, text, fc.boolean(), (setting, words, onCommandLine) => {
        const { refusal, understood } = readSetting(setting, words, {
          presets,
          ...(onCommandLine && { naming: OPTION_NAMING }),
        });
        expect(refusal === null || understood === null).toBe(true);
        if (refusal !== null) expectOneSentence(refusal, words);
        // Names and tags are the crew's words.
        if (understood !== null && setting !== 'tags')
          expect(understood).not.toMatch(/NaN|Infinity|undefined|-0(?![.\d])/);
      }),
      { seed: 71, numRuns: 3000 },
    );
  });

  it('that is refused by itself is refused among others, and one that is not gives values within the schemas', () => {
    // In and out points need the clip's frame rate and are handed on as typed.
    fc.assert(
      fc.property(name, text, (setting, words) => {
        const settings: Settings = { [setting]: words };
        const { refusal } = readSetting(setting, words, { presets });
        try {
          const read = readSettings(settings, { presets });
          expect(refusal).toBeNull();
          expect(rigSchema.safeParse(read.rig).success).toBe(true);
          expect(deliverySchema.safeParse(read.delivery).success).toBe(true);
          expect(passSheetSchema.safeParse(read.pass).success).toBe(true);
          for (const value of numbersIn(read))
            expect(Number.isFinite(value) && !Object.is(value, -0)).toBe(true);
        } catch (error) {
          if (!(error instanceof TrundleError)) throw error;
          // A name of one's own needs figures beside it, which only the whole can tell.
          if (setting !== 'delivery-name') expect(refusal).toBe(error.message);
        }
      }),
      { seed: 72, numRuns: 3000 },
    );
  });

  it('does not depend on the order in which it was typed', () => {
    fc.assert(
      fc.property(fc.dictionary(name, text, { maxKeys: 5 }), fc.nat(), (settings, turn) => {
        const outcome = (given: Settings): unknown => {
          try {
            return readSettings(given, { presets });
          } catch (error) {
            if (!(error instanceof TrundleError)) throw error;
            return error.code;
          }
        };
        const entries = Object.entries(settings);
        const turned = entries.map((_, index) => entries[(index + turn) % entries.length]);
        expect(outcome(Object.fromEntries(turned))).toEqual(outcome(settings));
      }),
      { seed: 73, numRuns: 400 },
    );
  });

  it('that there is none of is refused by name, and nothing is changed by it', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.constantFrom(...HOSTILE_NAMES)), text, (unknown, words) => {
        fc.pre(!(SETTING_NAMES as readonly string[]).includes(unknown));
        const settings = Object.fromEntries([[unknown, words]]);
        expect(() => readSettings(settings, { presets })).toThrow(
          `There is no setting "${unknown}"; the nearest is "`,
        );
        expect(Object.keys(Object.prototype)).toEqual([]);
      }),
      { seed: 74, numRuns: 300 },
    );
  });
});
