/** Sentences of verdicts, advices, answers, comparisons and lane plans for a crew that reads feet and inches. */
import { describe, expect, it } from 'vitest';
import { inUnits } from '../../src/run/index.js';
import {
  comparisonTexts,
  conditionValueTexts,
  dollyAdviceTexts,
  floorAdviceTexts,
  framingAdviceTexts,
  laneTexts,
  lensAdviceTexts,
  measuringAdviceTexts,
  otherLensTexts,
  ratioTexts,
  speedAdviceTexts,
  whatIfAskedTexts,
} from '../../src/texts/index.js';
import { madeUpRun, type Change } from '../report/support/made-up-run.js';
import { setCrop } from '../report/support/made-up-stabilise.js';
import { faultsInImperial, quantitiesOf } from './support/optics-kept.js';

const LENSES = [
  lensAdviceTexts.lead('18'),
  lensAdviceTexts.lead('35'),
  lensAdviceTexts.withRoom('50'),
  lensAdviceTexts.orShorter('17.5'),
  lensAdviceTexts.orShorterNearest('67', '50'),
  lensAdviceTexts.orShorterWithRoom('103', '85'),
  lensAdviceTexts.longest.text('107', '85'),
  lensAdviceTexts.longest.effect('85', '3.1', '0.4'),
  framingAdviceTexts.frameWider.text({ percent: '4.4', px: '85.2', ofPx: 1920, lensMm: '33.5' }, true),
  framingAdviceTexts.allowCrop.text('2.5', { percent: '2.3', px: '44', ofPx: 1920, lensMm: '103' }),
  otherLensTexts.lensTaken(35),
  otherLensTexts.sensorTaken(24.9),
  comparisonTexts.commonLens({ mm: '35', sensorMm: '24.9' }, true, 1920, 1080),
];

const LENGTHS = [
  speedAdviceTexts.lead('0.2'),
  speedAdviceTexts.roll(
    '0.2',
    '0.3',
    '0.4',
    speedAdviceTexts.keepOff([speedAdviceTexts.ringing('0.25', 'axles', '7.3', '0.4', '0.9')]),
  ),
  floorAdviceTexts.shim([
    floorAdviceTexts.bumpAt('0.64 m', 'dip of 0.21 mm as this wheel sees it, left wheel line'),
    floorAdviceTexts.bumpAt('1.812 m', 'joint, left 0.4 mm up, right 2.8 mm down'),
  ]),
  floorAdviceTexts.shimRow(9, '0.30'),
  floorAdviceTexts.worstFrame.text('1.81 m', 'step of 1.2 mm up, both wheel lines'),
  dollyAdviceTexts.largerWheels('250', '125'),
  measuringAdviceTexts.showDepth.text,
  laneTexts.keepOff(
    laneTexts.stretchM('2.1', '2.9', '2'),
    '2.2',
    [{ kind: 'joint', mm: '3.2', m: '2.5' }],
    1,
  ),
  laneTexts.steadiestM('2.5', 'window side', '0.4'),
  ratioTexts.bothUnderNoise('lateral', ['"A"', '0.021'], ['"B"', '0.03'], 'mm'),
  ratioTexts.line('7.3', '0.12', 'mm'),
];

describe('sentences of the judge in feet and inches', () => {
  it('leave every lens and sensor in millimetres', () => {
    expect(LENSES.filter((sentence) => quantitiesOf(sentence).optics.length === 0)).toEqual([]);
    expect(LENSES.map((sentence) => inUnits(sentence, 'imperial'))).toEqual(LENSES);
  });

  it('leave no length, height or speed as it was', () => {
    expect(LENGTHS.filter((sentence) => quantitiesOf(sentence).others.length === 0)).toEqual([]);
    expect(faultsInImperial(LENGTHS)).toEqual([]);
  });

  it('keep a lens in a cell, and convert a wheelbase or a speed beside it', () => {
    const optics = [whatIfAskedTexts.opticsMm('35'), conditionValueTexts.opticsMm('24.9')];
    expect(optics.map((cell) => inUnits(cell, 'imperial'))).toEqual(optics);
    expect(inUnits(whatIfAskedTexts.mm('600'), 'imperial')).toBe('23.6 in');
    expect(inUnits(conditionValueTexts.metres('0.61'), 'imperial')).toBe('2 ft');
    expect(inUnits(conditionValueTexts.mps('0.3048'), 'imperial')).toBe('1 ft/s');
  });

  it('are right in made-up verdicts with their advice', () => {
    const changes: readonly Change[] = [
      () => undefined,
      (run) => setCrop(run.stabilise, 8),
      (run) => (run.stabilise.residual.rmsPx = 3),
      (run) => {
        run.motion.translational.observable = 'no';
        run.stabilise.residual.rmsPx = null;
        run.stabilise.residual.parallaxPx = null;
      },
    ];
    const sentences = changes.flatMap((change) => {
      const { reasons, advice } = madeUpRun(change).verdict;
      return [...reasons.map(({ text }) => text), ...advice.flatMap(({ text, effect }) => [text, effect])];
    });
    const seen = sentences.map(quantitiesOf);
    expect(seen.some(({ optics }) => optics.length > 0)).toBe(true);
    expect(seen.some(({ others }) => others.length > 0)).toBe(true);
    expect(faultsInImperial(sentences)).toEqual([]);
  });

  it('have an before eight, eleven and eighteen, a before every other lens', () => {
    expect(['8', '11', '18', '18.5', '85'].map(lensAdviceTexts.lead)).toEqual([
      'With an 8 mm lens:',
      'With an 11 mm lens:',
      'With an 18 mm lens:',
      'With an 18.5 mm lens:',
      'With an 85 mm lens:',
    ]);
    expect(['10', '35', '110', '180'].map((mm) => lensAdviceTexts.lead(mm).slice(0, 9))).toEqual([
      'With a 10',
      'With a 35',
      'With a 11',
      'With a 18',
    ]);
  });
});
