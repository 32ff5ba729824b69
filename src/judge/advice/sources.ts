/** Wheels, machines and mounts that were named as causes: what it would bring to stop each of them. Frequencies in Hz. */
import { figure, type ShakeSourceSection } from '../../run/index.js';
import { dollyAdviceTexts } from '../../texts/index.js';
import { isRefused, type RefusedChange } from '../changes/types.js';
import { byChange, stepWhenItHelps, type Present } from './present.js';
import { bestOf } from './rank.js';
import type { Effort, ForetoldStep } from './step.js';

interface Remedy {
  readonly code: string;
  readonly effort: Effort;
  /** @param hz the frequency at which it shakes */
  readonly text: (hz: string) => string;
}

const REMEDIES: Partial<Record<ShakeSourceSection['cause'], Remedy>> = {
  wheel: {
    code: 'true-wheel',
    effort: 'wheels',
    text: dollyAdviceTexts.trueWheel,
  },
  machine: {
    code: 'isolate-machine',
    effort: 'machine',
    text: dollyAdviceTexts.isolateMachine,
  },
  mount: {
    code: 'stiffen-mount',
    effort: 'machine',
    text: dollyAdviceTexts.stiffenMount,
  },
};

/** For each kind of cause the source whose end helps most; harmonics of one source go with it. */
export function sourceSteps(present: Present): ForetoldStep[] | RefusedChange {
  const { sources } = present.pass.sections.spectrum;
  let refusal: RefusedChange | null = null;
  const steps = Object.entries(REMEDIES).flatMap(([cause, { code, effort, text }]) => {
    const offered = familiesOf(sources, cause).flatMap((places) => {
      const foretold = byChange(present, { what: 'silence', sources: places });
      if (!isRefused(foretold))
        return stepWhenItHelps(present, foretold, {
          code,
          text: text(figure(sources[places[0]].trueHz)),
          effort,
        });
      refusal ??= foretold;
      return [];
    });
    return bestOf(offered, present);
  });
  return steps.length === 0 && refusal !== null ? refusal : steps;
}

/** Places of the sources of one cause, those of one harmonic family together, each family by its order. */
function familiesOf(sources: readonly ShakeSourceSection[], cause: string): number[][] {
  const families = new Map<string, number[]>();
  sources.forEach((source, place) => {
    if (source.cause !== cause) return;
    const key = source.harmonic === null ? `alone ${place}` : `family ${source.harmonic.family}`;
    families.set(key, [...(families.get(key) ?? []), place]);
  });
  return [...families.values()].map((places) =>
    places.sort((a, b) => (sources[a].harmonic?.order ?? 1) - (sources[b].harmonic?.order ?? 1)),
  );
}
