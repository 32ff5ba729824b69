/** What to do when the clip does not support a verdict: how to shoot the test pass again. */
import { told, type Step } from './step.js';

type Words = Omit<Step, 'predicted'>;

const RESHOOT: Record<string, Words> = {
  'too-few-tracks': {
    code: 'reshoot-light-texture',
    text: 'Shoot again with more light and something with texture in view, such as boards, tape marks or a patterned cloth.',
    effect: 'Gives points that can be followed.',
  },
  'coverage-too-small': {
    code: 'reshoot-fill-frame',
    text: 'Shoot again with texture spread over the whole frame: tilt to include the floor or hang marks on the plain wall.',
    effect: 'Lets roll be told from a shift.',
  },
  'subject-fills-frame': {
    code: 'reshoot-without-subject',
    text: 'Shoot the test pass again without people or moving things in the frame.',
    effect: 'Leaves the room itself to measure against.',
  },
  'no-camera-path': {
    code: 'reshoot-plain',
    text: 'Shoot the test pass again with nothing moving in the frame and stabilising in the camera or lens off; give the lens distortion of a very wide lens.',
    effect: 'Leaves one camera path that explains the picture.',
  },
  'noise-too-large': {
    code: 'reshoot-cleaner',
    text: 'Shoot again with more light, a shorter shutter and a higher data rate.',
    effect: 'Less grain, blur and compression in what is measured.',
  },
  'too-short': {
    code: 'reshoot-longer',
    text: 'Roll a longer pass: 10 s is the working length.',
    effect: 'Holds enough periods of the slowest vibration.',
  },
  'too-many-frames-rejected': {
    code: 'reshoot-one-take',
    text: 'Use one take with no cuts and no repeated frames, or set in and out points around them.',
    effect: 'Leaves a stretch that can be measured.',
  },
};

/** What to do about each obstacle, in the order of what is done first; one plain step where none is known. */
export function reshootSteps(codes: ReadonlySet<string>): Step[] {
  const steps = Object.entries(RESHOOT)
    .filter(([code]) => codes.has(code))
    .map(([, { code, text, effect }]) => told(code, text, effect));
  if (steps.length > 0) return steps;
  return [
    told(
      'reshoot',
      'Shoot the test pass again: more light, texture across the frame, nobody in it, 10 s or longer.',
      'Gives the picture enough to be measured against.',
    ),
  ];
}
