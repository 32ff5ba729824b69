/** Working width, border between move and vibration, and units of the report, out of what was typed. */
import { TrundleError, UNITS, type Units } from '../run/index.js';
import { numberWith } from './figures-as-typed.js';
import { typed, type Settings } from './names.js';
import type { SettingNaming } from './naming.js';

/** The analysis width, px. @throws TrundleError `argument-invalid` outside 160..3840 px */
export function analysisWidthOf(settings: Settings, naming: SettingNaming): number | undefined {
  const text = typed(settings, 'width');
  if (text === undefined) return undefined;
  const width = numberWith(text, 'px');
  if (!Number.isInteger(width) || width < 160 || width > 3840)
    throw new TrundleError(
      'argument-invalid',
      `${naming.given('width', text)} must be a whole number from 160 to 3840.`,
    );
  return width;
}

/** The border between move and vibration, Hz. @throws TrundleError `argument-invalid` outside 0.2..5 Hz */
export function cutoffOf(settings: Settings, naming: SettingNaming): number | undefined {
  const text = typed(settings, 'cutoff');
  if (text === undefined) return undefined;
  const cutoff = numberWith(text, 'hz');
  if (cutoff < 0.2 || cutoff > 5)
    throw new TrundleError(
      'argument-invalid',
      `${naming.given('cutoff', text)} must lie between 0.2 Hz and 5 Hz.`,
    );
  return cutoff;
}

/** The units asked for; undefined when none are. @throws TrundleError `argument-invalid` */
export function unitsOf(settings: Settings, naming: SettingNaming): Units | undefined {
  const text = typed(settings, 'units');
  if (text === undefined) return undefined;
  const units = UNITS.find((name) => name === text.trim().toLowerCase());
  if (units === undefined)
    throw new TrundleError(
      'argument-invalid',
      `${naming.given('units', text)} must be one of ${UNITS.join(', ')}.`,
    );
  return units;
}
