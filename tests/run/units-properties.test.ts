/**
 * What holds for every quantity that is typed or printed. Exact factors: 1 ft = 0.3048 m and 1 in = 25.4 mm (international yard and
 * pound agreement, 1959); 1 mile = 1609.344 m, so 1 mph = 0.44704 m/s.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  TrundleError,
  boundBeside,
  boundNear,
  figure,
  figureBeside,
  figureNear,
  figureUp,
  inUnits,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseFrequencyHz,
  parseLengthM,
  parsePercent,
  parsePointS,
  parseSizePx,
  parseSpeedMps,
  percentBeside,
} from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly, evenlyByRatio } from '../support/evenly.js';

/** Two products and a sum of doubles: only rounding. */
const ROUNDING = { rel: 1e-12 };

const READERS = {
  length: parseLengthM,
  speed: parseSpeedMps,
  focal: parseFocalMm,
  angle: parseAngleDeg,
  duration: parseDurationS,
  frequency: parseFrequencyHz,
  percent: parsePercent,
} as const;

/** Every spelling of every unit with what one of it is, written out by hand and apart from the tables of the reader. */
const SPELLINGS: readonly (readonly [keyof typeof READERS, string, number])[] = [
  ...['m', ' m', 'M'].map((unit) => ['length', unit, 1] as const),
  ['length', 'km', 1000],
  ['length', 'cm', 1 / 100],
  ['length', ' mm', 1 / 1000],
  ['length', '\u202fmm', 1 / 1000],
  ...['in', 'inch', 'inches', ' Inches', '"', '″'].map((unit) => ['length', unit, 25.4 / 1000] as const),
  ...['ft', 'foot', 'feet', ' FT', "'", '′'].map((unit) => ['length', unit, 304.8 / 1000] as const),
  ['speed', 'mm/s', 1 / 1000],
  ['speed', 'cm/s', 1 / 100],
  ['speed', ' m/s', 1],
  ['speed', 'm/min', 1 / 60],
  ['speed', 'km/h', 1000 / 3600],
  ['speed', 'in/s', 25.4 / 1000],
  ['speed', 'ft/s', 304.8 / 1000],
  ['speed', 'ft/min', 304.8 / 60_000],
  ['speed', 'mph', 1609.344 / 3600],
  ...['', 'mm', ' MM'].map((unit) => ['focal', unit, 1] as const),
  ...['', 'deg', '°', ' degrees'].map((unit) => ['angle', unit, 1] as const),
  ['angle', 'arcmin', 1 / 60],
  ['angle', ' rad', 180 / Math.PI],
  ...['', 's', ' sec'].map((unit) => ['duration', unit, 1] as const),
  ['duration', 'ms', 1 / 1000],
  ['duration', ' min', 60],
  ...['', 'Hz', ' hz'].map((unit) => ['frequency', unit, 1] as const),
  ['frequency', 'kHz', 1000],
  ['frequency', 'rpm', 1 / 60],
  ...['', '%', ' %'].map((unit) => ['percent', unit, 1] as const),
];

/** A number in figures with up to six decimals, and its text with a point or a comma. */
const typedNumber = fc
  .tuple(
    fc.integer({ min: -9_999_999, max: 9_999_999 }),
    fc.integer({ min: 0, max: 6 }),
    fc.constantFrom('.', ','),
    fc.constantFrom('-', '−'),
  )
  // Three decimals behind a comma may part thousands: those are refused.
  .map(([digits, decimals, mark, minus]) => ({
    value: digits / 10 ** decimals,
    text: (digits / 10 ** decimals)
      .toFixed(decimals)
      .replace('.', decimals === 3 ? '.' : mark)
      .replace('-', minus),
  }));

describe('a typed quantity', () => {
  it('is its number times its unit, in every spelling, with point or comma, never -0', () => {
    fc.assert(
      fc.property(typedNumber, fc.constantFrom(...SPELLINGS), ({ value, text }, [kind, unit, factor]) => {
        const read = READERS[kind](`${text}${unit}`);
        expectWithin(read, value * factor, ROUNDING);
        expect(Object.is(read, -0)).toBe(false);
      }),
      { seed: 31, numRuns: 600 },
    );
  });

  it('of whole feet is that many times 0.3048 m to the last bit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), fc.constantFrom('ft', "'", ' feet'), (feet, unit) => {
        expect(parseLengthM(`${feet}${unit}`)).toBe(feet * 0.3048);
        expect(parseLengthM(`-${feet}${unit}`)).toBe(feet === 0 ? 0 : -feet * 0.3048);
      }),
      { seed: 32, numRuns: 200 },
    );
  });

  it('in feet and inches, whole, decimal or in parts, is one length with one sign', () => {
    const inch = fc.oneof(
      fc
        .integer({ min: 0, max: 119 })
        .map((tenths) => ({ text: (tenths / 10).toFixed(1), inches: tenths / 10 })),
      fc
        .tuple(fc.integer({ min: 0, max: 11 }), fc.integer({ min: 1, max: 63 }), fc.constantFrom(2, 4, 8, 16))
        .map(([whole, over, under]) => ({
          text: whole === 0 ? `${over}/${under}` : `${whole} ${over}/${under}`,
          inches: whole + over / under,
        })),
    );
    const marks = fc.constantFrom(
      ["'", '"'],
      ['ft ', 'in'],
      [' feet ', ' inches'],
      ['′', '″'],
      ['foot', 'inch'],
    );
    fc.assert(
      fc.property(
        fc.option(fc.integer({ min: 0, max: 500 }), { nil: null }),
        inch,
        marks,
        fc.constantFrom('', '+', '-', '−'),
        (feet, { text, inches }, [foot, inchMark], sign) => {
          const written = `${sign}${feet === null ? '' : `${feet}${foot}`}${text}${inchMark}`;
          const size = (12 * (feet ?? 0) + inches) * 0.0254;
          expectWithin(parseLengthM(written), sign === '' || sign === '+' ? size : -size, ROUNDING, written);
        },
      ),
      { seed: 33, numRuns: 400 },
    );
  });

  it('in minutes and seconds is 60 times the minutes and the seconds', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 999 }),
        fc.integer({ min: 0, max: 5999 }),
        fc.constantFrom('.', ','),
        (minutes, hundredths, mark) => {
          const seconds = (hundredths / 100).toFixed(2).padStart(5, '0').replace('.', mark);
          const wanted = 60 * minutes + hundredths / 100;
          expectWithin(parseDurationS(`${minutes}:${seconds}`), wanted, { abs: 1e-9 });
          expectWithin(parseDurationS(`${minutes} min ${seconds} s`), wanted, { abs: 1e-9 });
        },
      ),
      { seed: 34, numRuns: 200 },
    );
  });

  it('of a picture is its two sides', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 99_999 }),
        fc.integer({ min: 10, max: 99_999 }),
        fc.constantFrom('x', 'X', ' × '),
        (widthPx, heightPx, by) => {
          expect(parseSizePx(`${widthPx}${by}${heightPx}`)).toEqual({ widthPx, heightPx });
        },
      ),
      { seed: 35, numRuns: 100 },
    );
  });
});

/** Rubbish of several sorts: any signs at all, figures with odd words behind them, and what looks like a number and is none. */
const rubbish = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc
    .tuple(
      fc.constantFrom(
        '5',
        '-0',
        '1e3',
        '0x10',
        '1,5',
        '.5',
        '5.',
        '1,200',
        '9'.repeat(400),
        '٣',
        'NaN',
        'Infinity',
      ),
      fc.constantFrom(
        ...[
          'constructor',
          '__proto__',
          'tostring',
          'valueof',
          'hasownproperty',
          'm',
          'ft',
          's',
          '%',
          '',
          'f',
        ],
        ...['mm', '/0in', '/8in', "'6", ':30', ':-1', 'x10', ' min 70 s', 'deg', 'Hz'],
      ),
    )
    .map((parts) => parts.join('')),
  fc.stringMatching(/^[-+−0-9.,:;/'"″xfms°% ]{0,20}$/),
);

describe('whatever is typed', () => {
  it('gives a number that can be told, or one of our refusals, and never anything else', () => {
    const readers = [
      ...Object.values(READERS),
      (text: string) => parseSizePx(text).widthPx,
      (text: string) => parsePointS(text, { numerator: 30000, denominator: 1001 }, '01:00:00;00'),
    ];
    fc.assert(
      fc.property(rubbish, (text) => {
        for (const read of readers) {
          try {
            const value = read(text);
            expect(
              Number.isFinite(value) && !Object.is(value, -0),
              `${read.name} of "${text}": ${value}`,
            ).toBe(true);
          } catch (error) {
            if (!(error instanceof TrundleError)) throw error;
            expect(error.code).toBe('argument-invalid');
          }
        }
      }),
      { seed: 36, numRuns: 2000 },
    );
  });
});

describe('a printed quantity', () => {
  /** As reports print them: figures without exponents. */
  const metric = fc.oneof(
    fc.tuple(evenly(1e-4, 900), fc.constantFrom('m', 'mm', 'm/s')),
    fc.tuple(evenlyByRatio(1e-4, 900), fc.constantFrom('m', 'mm', 'm/s')),
  );

  it('in feet and inches reads back as the metric one, as far as it is printed', () => {
    fc.assert(
      fc.property(metric, fc.constantFrom('', '-', '−', '+'), ([value, unit], sign) => {
        const text = `${sign}${figure(value)} ${unit}`;
        const read = unit === 'm/s' ? parseSpeedMps : parseLengthM;
        const imperial = inUnits(text, 'imperial');
        expect(imperial).toMatch(/^[-−+]?(\d[\d.]* (ft|in|ft\/s)|\d+ ft \d[\d.]* in)$/);
        const metres = Math.abs(read(text));
        const decimals = /[\d.]+/.exec(figure(value))?.[0].split('.')[1]?.length ?? 0;
        const printed = /([\d.]+) \S+$/.exec(imperial)?.[1] ?? '';
        // Metres: whole inches, tenths below a metre or with centimetres, hundredths below ten inches. Others: the last place printed.
        const inches = metres / 0.0254 < 10 ? 0.01 : metres < 1 || decimals >= 2 ? 0.1 : 1;
        const last = 10 ** -(printed.split('.')[1]?.length ?? 0);
        const place = unit === 'm' ? inches * 0.0254 : last * (unit === 'mm' ? 0.0254 : 0.3048);
        expectWithin(read(imperial), read(text), { abs: 0.5 * place * (1 + 1e-9) }, `${text} as ${imperial}`);
      }),
      { seed: 37, numRuns: 800 },
    );
  });

  it('beside the metric one is left alone when it is asked for again', () => {
    fc.assert(
      fc.property(metric, ([value, unit]) => {
        const both = inUnits(`rolled ${figure(value)} ${unit} on`, 'both');
        expect(inUnits(both, 'both')).toBe(both);
      }),
      { seed: 38, numRuns: 200 },
    );
  });
});

describe('a printed figure', () => {
  /** No figure of ours is told closer than a billionth. */
  const tellable = (raw: number): number => (Math.abs(raw) < 1e-9 ? 0 : raw);
  const any = fc.oneof(
    evenly(-1e6, 1e6),
    evenly(-2, 2),
    fc.tuple(fc.integer({ min: 1, max: 999 }), fc.integer({ min: -9, max: 2 })).map(([n, e]) => n * 10 ** e),
  );
  const value = any.map(tellable);
  const aside = fc.oneof(
    fc.constant(0),
    fc
      .tuple(fc.integer({ min: -99, max: 99 }), fc.integer({ min: -14, max: 0 }))
      .map(([n, e]) => n * 10 ** e),
  );

  it('is in figures alone, never "-0", and off by no more than half of its last place', () => {
    fc.assert(
      fc.property(value, (raw) => {
        const text = figure(raw);
        expect(text).toMatch(/^-?\d+(\.\d*[1-9])?$/);
        expect(text).not.toBe('-0');
        const size = Math.abs(raw);
        const place =
          size >= 100 ? 1 : size >= 10 ? 0.1 : Math.max(1e-6, 10 ** (Math.floor(Math.log10(size)) - 1));
        expectWithin(Number(text), raw, { abs: size === 0 ? 0 : 0.5 * place * (1 + 1e-9) });
      }),
      { seed: 39, numRuns: 600 },
    );
  });

  it('stays on the side of its limit on which the value lies, bounds too, and is in figures that can be read', () => {
    fc.assert(
      fc.property(value, aside, (limit, off) => {
        const raw = limit + off;
        for (const print of [figureBeside, boundBeside]) {
          const text = print(raw, limit);
          expect(Math.sign(Number(text) - limit), `${print.name}(${raw}, ${limit}) = ${text}`).toBe(
            Math.sign(raw - limit),
          );
          expect(text).toMatch(/^-?\d+(\.\d+)?$/);
        }
        const percent = percentBeside(raw, limit);
        if (percent !== '< 0.01') expect(Math.sign(Number(percent) - limit)).toBe(Math.sign(raw - limit));
        else expect(raw > 0 && raw < 0.01 && limit >= 0.01).toBe(true);
      }),
      { seed: 40, numRuns: 1000 },
    );
  });

  it('that is foretold may print as its limit, but never beyond it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9999 }), aside, (hundredths, off) => {
        const limit = hundredths / 100;
        for (const print of [figureNear, boundNear]) {
          const side = Math.sign(Number(print(limit + off, limit)) - limit);
          expect([0, Math.sign(limit + off - limit)]).toContain(side);
        }
      }),
      { seed: 41, numRuns: 500 },
    );
  });

  it('that is a bound is not below what it bounds', () => {
    fc.assert(
      fc.property(value, (raw) => {
        // A hair, so that 4.2 stays 4.2 when it was computed as 4.2000000000000001: a billionth of the last place.
        expect(Number(figureUp(raw))).toBeGreaterThanOrEqual(raw - 1e-9 * Math.max(1, Math.abs(raw)));
      }),
      { seed: 42, numRuns: 500 },
    );
  });
});
