/** Parts of a report for the local page: who reads them has a form and sliders, and is sent to no command. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { readMeasured } from '../../src/read-measured.js';
import { wordsForForm } from '../../src/report/form-words.js';
import { renderHtml, reportParts, type ReportBundle } from '../../src/report/index.js';
import { restoreBundle } from '../../src/restore-bundle.js';
import {
  assumedDistortionTexts,
  causeTexts,
  floorTexts,
  measuringAdviceTexts,
  otherLensTexts,
  whatIfTexts,
} from '../../src/texts/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';

const REPORTS = path.resolve(import.meta.dirname, '../../reports');

/** Options and commands, in text and in data of charts. */
const COMMANDS = /(?<![\w-])--[a-z][a-z-]*|\btrundle [a-z]+/g;
const commandsIn = (text: string): string[] => text.match(COMMANDS) ?? [];
const partsOf = (bundle: ReportBundle): string => {
  const { advice, sections } = reportParts(bundle);
  return advice + sections;
};

/** A run as stored with the sentences that send to a command. */
function storedWithCommands(): ReportBundle {
  const bundle = madeUpBundle();
  const { verdict, rig } = bundle.run;
  const [step] = verdict.advice;
  const [reason] = verdict.reasons;
  return {
    ...bundle,
    run: {
      ...bundle.run,
      verdict: {
        ...verdict,
        advice: [
          step,
          { ...step, text: 'Keep the move instead of holding still (--stabilise keep-move).' },
          { ...step, text: measuringAdviceTexts.calibrateLens.text },
        ],
        reasons: [...verdict.reasons, { ...reason, text: otherLensTexts.giveFocal }],
      },
      rig: {
        ...rig,
        assumed: [
          { name: 'lensDistortion', value: 'none', matters: assumedDistortionTexts.wideLens.matters },
        ],
      },
    },
  };
}

const CASES: Readonly<Record<string, () => ReportBundle>> = {
  'a pass': () => madeUpBundle(),
  'a fail': () =>
    madeUpBundle((run) => {
      run.stabilise.cropPercent = 8;
      run.stabilise.residual.rmsPx = 1.9;
    }),
  'an unmeasurable one': () => madeUpBundle((run) => (run.tracking.featuresMedian = 12)),
  'one in feet and inches': () => madeUpBundle((run) => (run.units = 'imperial')),
  'one of which speed and wheelbase were not given': () =>
    madeUpBundle((run) => {
      run.surface = { ...run.surface, observable: false, reason: null, profile: null, bumps: [] };
      delete run.rig.speedMps;
      delete run.rig.travelM;
      delete run.rig.wheelbaseM;
    }),
  'one whose stored sentences name options': storedWithCommands,
};

describe('the parts for the page', () => {
  it.each(Object.keys(CASES))('send to no command: %s', (name) => {
    expect(commandsIn(partsOf(CASES[name]()))).toEqual([]);
  });

  it.each(['aluminium-rail', 'dairy-hall-polished-concrete', 'plywood-loft', 'tiled-corridor'])(
    'send to no command: the measured %s',
    async (name) => {
      const { run, series } = await readMeasured(path.join(REPORTS, name));
      expect(commandsIn(partsOf(await restoreBundle(run, series, null)))).toEqual([]);
    },
  );

  it('say the same with the fields and sliders that are there', () => {
    const parts = partsOf(storedWithCommands());
    const said = [
      'Keep the move instead of holding still.',
      'a calibration of the lens finds it',
      'The sliders of this page tell floor and machines apart',
    ];
    expect(said.filter((words) => !parts.includes(words))).toEqual([]);
    expect(parts.includes(whatIfTexts.askMore)).toBe(false);
  });

  it('leave the name of a clip as it is, options and all', () => {
    const parts = partsOf(madeUpBundle((run) => (run.clip.file = 'hall --travel 3.mp4')));
    expect(parts.includes('<span translate="no">hall --travel 3.mp4</span>')).toBe(true);
  });
});

describe('the file of a report', () => {
  it('keeps options and commands for those who have the command line', () => {
    const file = renderHtml(storedWithCommands(), null);
    const kept = [
      '(--stabilise keep-move)',
      '&quot;trundle lens&quot; finds it',
      'trundle whatif &lt;folder of this report&gt; --focal 50mm',
      'The command below tells floor and machines apart',
    ];
    // Only what is not there is told, for a file fills pages.
    expect(kept.filter((words) => !file.includes(words))).toEqual([]);
  });
});

describe('a sentence for who has a form', () => {
  it.each([
    ['give the track width (--track-width) to see each.', 'give the track width to see each.'],
    ['Give speed or travel (--speed, --travel), and', 'Give speed or travel, and'],
    [
      floorTexts.notGiven(['speed'], [floorTexts.inputs.speed.option]),
      'Not graded, because the speed was not given: measure the clip again with "Speed" 20cm/s (or "Travel" 3.2m).',
    ],
    [measuringAdviceTexts.calibrateLens.text, 'Calibrate the lens once and measure this clip again.'],
    [
      otherLensTexts.giveFocal,
      'The pass was measured with a focal length in pixels: give "Focal length" beside "Sensor".',
    ],
    [
      causeTexts.rollFaster,
      'Roll the same stretch at least 1.2 times as fast and measure it too: what stays at its frequency comes from machines.',
    ],
  ])('%s', (command, words) => {
    expect(wordsForForm(command)).toBe(words);
  });

  it('leaves dashes, ranges and options without a field as they are', () => {
    const text = 'wall-to-wall, 2--3, a -- b, --unheard-of';
    expect(wordsForForm(text)).toBe(text);
  });
});
