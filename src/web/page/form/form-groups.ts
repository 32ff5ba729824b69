/** Which settings the form asks for, in which groups; in and out are set on the clip itself. */
import type { SettingName } from '../../../settings/index.js';
import type { settingsFormTexts } from '../../../texts/index.js';

/** A group of fields. */
export interface FormGroup {
  readonly key: keyof typeof settingsFormTexts.groups;
  readonly names: readonly SettingName[];
}

/** What matters most: in sight. */
export const OPEN_GROUPS: readonly FormGroup[] = [
  { key: 'lens', names: ['focal', 'sensor'] },
  { key: 'move', names: ['speed', 'travel'] },
  { key: 'dolly', names: ['wheelbase', 'wheel-diameter'] },
  { key: 'delivery', names: ['for', 'max-crop'] },
  { key: 'stabilise', names: ['stabilise', 'smoothing', 'take'] },
];

/** The rest: folded away. */
export const FOLDED_GROUPS: readonly FormGroup[] = [
  {
    key: 'sheet',
    names: [
      'floor',
      'lane',
      'direction',
      'setup',
      'wheels',
      'track',
      'pass-number',
      'mark',
      'operator',
      'production',
      'unit',
      'location',
      'camera-roll',
      'slate',
      'take-number',
      'tags',
      'notes',
    ],
  },
  {
    key: 'camera',
    names: ['head', 'shutter', 'readout', 'camera-height', 'lens-azimuth', 'camera-offset'],
  },
  { key: 'machines', names: ['track-width', 'joint-spacing', 'machine', 'mount', 'mains'] },
  {
    key: 'more',
    names: [
      'units',
      'deliver',
      'max-residual',
      'viewing',
      'delivery-name',
      'focal-px',
      'lens-distortion',
      'cutoff',
      'width',
    ],
  },
];
