/** The option that turns a verdict into an exit status, shared by every command that gives one. */
import type { ArgsDef } from 'citty';
import { EXIT, TrundleError, type ExitStatus, type VerdictSection } from '../run/index.js';

const FAIL_ON = ['never', 'marginal', 'fail'] as const;

/** From which verdict on a command exits with 1. */
export type FailOn = (typeof FAIL_ON)[number];

/** The option. */
export const FAIL_ON_ARGS = {
  'fail-on': {
    type: 'string',
    valueHint: 'fail',
    description: 'exit with 1 when the verdict is at or beyond: marginal, fail, or never',
  },
} as const satisfies ArgsDef;

/** Reads the option; never unless given. @throws TrundleError `argument-invalid` */
export function parseFailOn(text: string | undefined): FailOn {
  const failOn = (text ?? 'never') as FailOn;
  if (!FAIL_ON.includes(failOn))
    throw new TrundleError('argument-invalid', `"--fail-on ${failOn}" must be one of ${FAIL_ON.join(', ')}.`);
  return failOn;
}

/** The exit status that a grade stands for. */
export function statusOfGrade(grade: VerdictSection['grade'], failOn: FailOn): ExitStatus {
  if (grade === 'unmeasurable') return EXIT.unmeasurable;
  const reached = (failOn === 'fail' && grade === 'fail') || (failOn === 'marginal' && grade !== 'pass');
  return reached ? EXIT.verdictReached : EXIT.measured;
}
