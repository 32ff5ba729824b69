import { describe, expect, it } from 'vitest';
import { comparisonText } from '../../../src/report/index.js';
import { madeUpComparison } from '../support/made-up-comparison.js';
import {
  MADE_UP_COMPARISONS,
  belowNoise,
  hostileComparison,
  lanesOnly,
  onePassEach,
  ownLanes,
  refusedWavelengths,
  unequalSpeeds,
  withBands,
} from '../support/made-up-comparisons.js';

const plain = { colour: false };

describe('a comparison as text', () => {
  it('gives the sentence first, then the ratios, what would decide, the cost and what was assumed', () => {
    expect(comparisonText(madeUpComparison(), plain)).toMatchInlineSnapshot(`
      "Soft wheels is smoother on this lane: tilt RMS 0.8 of hard wheels (0.66 to 0.96), 3 passes each.

      soft wheels against hard wheels. Both on one lane (lane 1): 3 passes of soft wheels, 3 passes of hard wheels. The result holds for this lane.

      Axis  soft wheels  hard wheels  Ratio (95 % range)   Says
      Tilt  0.041 deg    0.052 deg    0.80 (0.66 to 0.96)  soft wheels smoother
      Pan   0.012 deg    0.011 deg    1.08 (0.90 to 1.30)  no clear difference, leaning to hard wheels (80 in 100)
      Roll  0.03 deg     0.033 deg    0.92 (0.76 to 1.11)  no clear difference, leaning to soft wheels (83 in 100)
      Ratio: soft wheels over hard wheels.

      Decide: Pan: 5 passes of each would show a difference of 20 %.
              Roll: 6 passes of each would show a difference of 20 %.
      Crop:   60 s take: soft wheels 3.7 % (19 in 20: 6 %); hard wheels 4.5 % (19 in 20: 7.4 %). A cost, no test.

      Ranges: Assumed, not measured. The ranges assume that passes of one setup differ by about 10 %, lanes by 30 %, and setups from lane to lane by 8 %.
      Crops:  Crops are for a 35 mm lens on a 24.9 mm wide sensor, as all passes were filmed, delivered at 1920 x 1080."
    `);
  });

  it('leans, but names no winner, with one pass each', () => {
    const text = comparisonText(onePassEach(), plain);

    expect(text).toMatch(/^Tilt .* no clear difference, leaning to soft wheels \(89 in 100\)$/m);
    // Chances of 69 and 59 in 100 are about even.
    expect(text).toMatch(/^Pan .* no clear difference$/m);
    expect(text).not.toMatch(/ smoother$/m);
    expect(text).toContain('Warnings: 1');
  });

  it('never prints a leaning that sounds clear', () => {
    const comparison = madeUpComparison((draft) => {
      draft.pairs[0].axes[2].aSmoother = 0.9749;
    });

    expect(comparisonText(comparison, plain)).toContain('leaning to soft wheels (97 in 100)');
  });

  it('tells what only the number of questions leaves open as leaning', () => {
    const comparison = madeUpComparison((draft) => {
      Object.assign(draft.pairs[0].axes[2], { aSmoother: 0.9912, p: 0.018, pHolm: 0.11 });
    });

    expect(comparisonText(comparison, plain)).toMatch(
      /^Roll .*\) {2}leaning to soft wheels \(99 in 100\), not sure among so many$/m,
    );
  });

  it('lets nothing lean where floor and setup cannot be told apart', () => {
    const comparison = ownLanes();
    comparison.pairs[0].axes[0].aSmoother = 0.96;

    expect(comparisonText(comparison, plain)).not.toContain('leaning');
  });

  it('rounds the bound of a crop up', () => {
    const comparison = madeUpComparison((draft) => {
      draft.pairs[0].crop.a.upper95Percent = 4.72;
    });

    expect(comparisonText(comparison, plain)).toContain('(19 in 20: 4.8 %)');
  });

  it('sends lanes whose setups go with them to one setup', () => {
    const text = comparisonText({ ...ownLanes(), by: 'lane' }, plain);

    expect(text).toContain('No setup was rolled on both lanes: ');
    expect(text).toContain('Decide: Roll one setup on both lanes: ');
    expect(text).not.toMatch(/lanes for each|Sooner:/);
  });

  it('sends setups on lanes of their own to one lane', () => {
    expect(comparisonText(ownLanes(), plain)).toContain(
      'Decide: Pan, tilt and roll: 9 lanes for each would show a difference of 20 %.\n        Sooner: run both on one lane, in the order A B B A.',
    );
  });

  it('says what is not fair, and tells the setup alone by wavelength or why not', () => {
    const text = comparisonText(unequalSpeeds(), plain);

    expect(text).toContain('NOT FAIR:\n  - The speeds differ');
    expect(text).toContain('Setup alone, by wavelength (50 to 300 mm):\nAxis');
    expect(text).toContain('Differs: speed 0.3 m/s / 0.5 m/s (faster passes shake more on the same floor); ');
    expect(comparisonText(refusedWavelengths(), plain)).toContain(
      'Setup alone, by wavelength: The speeds are too far apart',
    );
  });

  it('names only bands that stand up to the correction for all', () => {
    expect(comparisonText(withBands(), plain)).toMatch(/^Bands: {2}clear in 1 of 12: tilt 2 to 4 Hz\.$/m);
    const none = withBands();
    for (const band of none.pairs[0].bands) band.pHolm = 0.4;

    expect(comparisonText(none, plain)).toMatch(/^Bands: {2}none of 12 stands out/m);
  });

  it('gives no figure below the noise and says why', () => {
    const text = comparisonText(belowNoise(), plain);

    expect(text).toMatch(/^Pan +below noise +below noise +- +not compared$/m);
    expect(text).toContain('Pan is below the noise with both: below 0.0021 deg.');
  });

  it('breaks its sentences at the edge of a window, and leaves its tables whole', () => {
    const width = 72;
    const lines = comparisonText(unequalSpeeds(), { ...plain, columns: width }).split('\n');
    const rows = lines.filter((line) => /^(Axis|Tilt|Pan|Roll) {2}/.test(line));

    expect(lines.filter((line) => !rows.includes(line)).every((line) => line.length <= width)).toBe(true);
    expect(rows.length).toBeGreaterThan(3);
    expect(lines.join(' ').replace(/\s+/g, ' ')).toBe(
      comparisonText(unequalSpeeds(), plain).replace(/\s+/g, ' '),
    );
  });

  it('gives lengths and speeds in the units asked for, and lenses in millimetres', () => {
    const lanes = comparisonText(lanesOnly(), { ...plain, units: 'imperial' });
    expect(lanes).toContain('keep off 6 ft 11 in to 9 ft 6 in');
    expect(lanes).not.toMatch(/\d mm?\b/);
    const speeds = comparisonText(unequalSpeeds(), { ...plain, units: 'both' });
    expect(speeds).toContain('Differs: speed 0.3 m/s (0.98 ft/s) / 0.5 m/s (1.6 ft/s)');
    expect(speeds).toContain('a 35 mm lens on');
  });

  it('keeps its columns under their heads in every unit', () => {
    const comparison = madeUpComparison((draft) => {
      Object.assign(draft.pairs[0].axes[1], { axis: 'lateral', unit: 'mm', aRms: 1.2, bRms: 0.023 });
    });
    for (const units of ['metric', 'imperial', 'both'] as const) {
      const lines = comparisonText(comparison, { ...plain, units }).split('\n');
      const [head, ...rows] = lines.filter((line) => /^(Axis|Tilt|Lateral|Roll) {2}/.test(line));
      const at = head.indexOf('Ratio');
      expect(rows.map((row) => row.slice(at - 2, at + 4))).toEqual(['  0.80', '  1.08', '  0.92']);
    }
  });

  it('tells the lanes in words, the best first', () => {
    expect(comparisonText(lanesOnly(), plain)).toMatchInlineSnapshot(`
      "Take the middle: 2.2 px RMS against 4.1 px of the next lane.

      Lanes of old dairy hall, polished concrete, soft wheels, the smoothest first:
        1. lane middle (best): 2.2 px RMS (1.8 to 2.7); 1 pass out; 6 m; 1 joint, the highest 0.5 mm (mean of both lines) at 3.1 m
        2. lane window side: 4.1 px RMS (3.4 to 4.9); 2 passes out and back; 6 m; 3 joints, the highest 3.2 mm (mean of both lines) at 2.5 m; keep off 2.1 to 2.9 m
        3. lane wall side: 5.2 px RMS (4.2 to 6.4); 1 pass back; 4.5 m; 2 joints, the highest 2.1 mm (mean of both lines) at 0.4 m; keep off 0 to 0.8 m; keep off 3.4 to 3.8 m
      Keep off 2.1 to 2.9 m of the window side: it shakes 3.6 times as much as the rest of that lane."
    `);
  });

  it('gives places in shares of the pass where metres are not known', () => {
    const comparison = lanesOnly();
    const plan = comparison.lanePlan;
    if (plan === null) throw new Error('the case has a lane plan');
    plan.metric = false;
    plan.avoid = null;
    for (const lane of plan.lanes) {
      lane.lengthM = 1;
      lane.joints = [{ atM: 0.42, heightMm: 3 }];
      lane.avoid = [{ fromM: 0.35, toM: 0.48, shakePx: 9, timesUsual: 2, joints: 1 }];
    }
    const text = comparisonText(comparison, plain);

    expect(text).toContain(
      'the highest 3 mm (mean of both lines) at 42 % of the pass; keep off 35 to 48 % of the pass',
    );
    expect(text).not.toMatch(/\d m\b/);
  });

  it('has escape bytes only when colour is asked for', () => {
    const text = comparisonText(unequalSpeeds(), plain);
    const coloured = comparisonText(unequalSpeeds(), { colour: true });

    expect(text).not.toContain('\u001b');
    expect(coloured).not.toBe(text);
    expect(coloured.replace(/\u001b\[[\d;]*m/g, '')).toBe(text);
  });

  it('lets no name steer the terminal', () => {
    expect(comparisonText(hostileComparison(), plain)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f]/);
  });

  it.each(Object.entries(MADE_UP_COMPARISONS))(
    'begins with the sentence and claims nothing more: %s',
    (_, make) => {
      const comparison = make();
      const text = comparisonText(comparison, plain);

      expect(text.split('\n')[0]).toBe(comparison.sentence.replace(/[\u0000-\u001f]/g, '?'));
      expect(text).not.toMatch(/\bequal\b|NaN|undefined|null|Infinity|!/i);
      expect(text).not.toMatch(/ +$/m);
    },
  );
});
