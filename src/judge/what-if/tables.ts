/** Tables over lenses, speeds, deliveries, smoothings and wheelbases: one thing varies, all else stays as the setting has it. */
import type { ResolvedDelivery, StabiliseSection, WhatIfAnswer, WhatIfRow } from '../../run/index.js';
import { cameraAtFocal, smoothingFits, smoothingOf } from '../../stabilise/index.js';
import type { RefusedChange } from '../changes/types.js';
import { outcomeFor } from './foretold.js';
import { otherLens } from './other-lens.js';
import { shapeNote } from './shape-note.js';
import { atOtherSpeed, settingFor, speedOf, type Setting } from './setting.js';
import type { ResolvedWish } from './wish.js';

/** Speeds of the table, as factors of that of the pass; those of a report are among them. */
export const WHAT_IF_SPEEDS = [0.4, 0.5, 0.75, 0.85, 1, 1.2, 1.5, 2, 2.5] as const;
/** Distances between the axles from a small slider cart to a large platform dolly, metres (common practice, no source). */
export const USUAL_WHEELBASES_M = [0.3, 0.45, 0.6, 0.9, 1.2] as const;

type Tables = WhatIfAnswer['tables'];
/** Makes the row of a case. */
type RowMaker = (setting: Setting, measured: boolean, asked: boolean) => WhatIfRow;

/**
 * All tables.
 *
 * @param setting the pass as asked for; as measured where nothing was asked or it was refused
 * @param wish what the setting was made from
 * @param deliveries presets to hold the pass against
 * @param again what a repeat of the move needs, in the plan of the setting
 */
export function tablesFor(
  setting: Setting,
  wish: ResolvedWish,
  deliveries: readonly ResolvedDelivery[],
  again: StabiliseSection['again'],
): Tables {
  const row: RowMaker = (at, measured, asked) => ({
    measured,
    asked,
    outcome: outcomeFor(at, again),
    refused: null,
  });
  const { pass } = setting;
  const speedMps = speedOf(pass);
  // The dolly is changed once for all speeds.
  const rolled = settingFor(pass, { ...wish, speedMps: undefined });
  const speed = along(
    speedMps === undefined
      ? [1]
      : [...WHAT_IF_SPEEDS.map((factor) => factor * speedMps), setting.speedMps ?? undefined],
    (value) => ('refused' in rolled ? rolled : atOtherSpeed(rolled, value)),
    speedMps,
    setting.speedMps ?? undefined,
    row,
  );
  const { wheelbaseM } = pass.rig;
  const wheelbase = along(
    [...USUAL_WHEELBASES_M, wheelbaseM, setting.rig.wheelbaseM],
    (value) => settingFor(pass, { ...wish, wheelbaseM: value }),
    wheelbaseM,
    setting.rig.wheelbaseM,
    row,
  );
  return {
    focal: focalTable(setting, wish, row),
    speed: speed.rows.map(({ value, row: told }) => ({ ...told, speedMps: value })),
    speedRefused: speed.refused,
    deliveries: deliveryTable(setting, deliveries, row),
    deliveriesNote: shapeNote(pass.source, [setting.delivery, pass.delivery, ...deliveries]),
    smoothing: smoothingTable(setting, row),
    wheelbase: wheelbase.rows.map(({ value, row: told }) => ({ ...told, wheelbaseM: value })),
    wheelbaseRefused: wheelbase.refused,
  };
}

function focalTable(setting: Setting, wish: ResolvedWish, rowOf: RowMaker): Tables['focal'] {
  const { pass, rig, camera } = setting;
  const usual = pass.sections.stabilise.whatIf.focal;
  const used = pass.rig.focalLengthMm;
  if (rig.focalLengthMm === undefined || usual.some(({ focalLengthMm }) => focalLengthMm === null)) {
    const same = camera.focalPx === pass.motion.camera.focalPx;
    return usual.map(({ factor }) => ({
      ...rowOf({ ...setting, camera: cameraAtFocal(camera, factor) }, same && factor === 1, factor === 1),
      focalLengthMm: null,
      factor,
    }));
  }
  const lengths = ascending([...usual.map(({ focalLengthMm }) => focalLengthMm), used, rig.focalLengthMm]);
  return lengths.flatMap((focalLengthMm) => {
    const lens = otherLens(pass, { ...wish, focalLengthMm });
    if ('refused' in lens) return [];
    const at = { ...setting, camera: lens.camera };
    return [
      {
        ...rowOf(at, focalLengthMm === used, focalLengthMm === rig.focalLengthMm),
        focalLengthMm,
        factor: lens.focalFactor,
      },
    ];
  });
}

function deliveryTable(
  setting: Setting,
  deliveries: readonly ResolvedDelivery[],
  rowOf: RowMaker,
): Tables['deliveries'] {
  const { pass, delivery: asked } = setting;
  const rows: ResolvedDelivery[] = [];
  for (const delivery of [asked, pass.delivery, ...deliveries])
    if (!rows.some((other) => alike(other, delivery)))
      rows.push(
        delivery.name === null ? (deliveries.find((other) => alike(other, delivery)) ?? delivery) : delivery,
      );
  return rows.map((delivery) => ({
    ...rowOf({ ...setting, delivery }, alike(delivery, pass.delivery), alike(delivery, asked)),
    delivery: { ...delivery },
  }));
}

/** The same demands, whatever they are called. */
function alike(a: ResolvedDelivery, b: ResolvedDelivery): boolean {
  return (
    a.widthPx === b.widthPx &&
    a.heightPx === b.heightPx &&
    a.maxCropPercent === b.maxCropPercent &&
    a.maxResidualPx === b.maxResidualPx &&
    a.viewingDistanceHeights === b.viewingDistanceHeights
  );
}

function smoothingTable(setting: Setting, rowOf: RowMaker): Tables['smoothing'] {
  const { pass, choice, moved } = setting;
  if (choice.mode !== 'keepMove') return [];
  const own = smoothingOf(moved.expected);
  const asked = choice.smoothingS ?? own;
  const used = pass.sections.stabilise.smoothingS;
  const usual = pass.sections.stabilise.curve.map(({ smoothingS }) => smoothingS);
  return ascending([...usual, asked])
    .filter((smoothingS) => smoothingS === asked || smoothingFits(moved.expected, smoothingS))
    .map((smoothingS) => ({
      ...rowOf({ ...setting, choice: { ...choice, smoothingS } }, smoothingS === used, smoothingS === asked),
      smoothingS,
    }));
}

interface Line {
  readonly value: number;
  readonly row: WhatIfRow;
}

/** A table of changes of the dolly; where not even the first can be foretold for want of a figure, why. */
function along(
  values: readonly (number | undefined)[],
  settingAt: (value: number) => Setting | RefusedChange,
  measured: number | undefined,
  asked: number | undefined,
  rowOf: RowMaker,
): { readonly rows: readonly Line[]; readonly refused: string | null } {
  const rows = ascending(values).map((value): Line => {
    const at = settingAt(value);
    const [isMeasured, isAsked] = [value === measured, value === asked];
    return {
      value,
      row:
        'refused' in at
          ? { measured: isMeasured, asked: isAsked, outcome: null, refused: at.refused }
          : rowOf(at, isMeasured, isAsked),
    };
  });
  if (measured !== undefined) return { rows, refused: null };
  return { rows: [], refused: rows[0].row.refused };
}

function ascending(values: readonly (number | null | undefined)[]): number[] {
  const known = values.filter((value): value is number => value !== null && value !== undefined);
  return [...new Set(known)].sort((a, b) => a - b);
}
