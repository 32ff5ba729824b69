/** Words of the settings of a measurement: their labels, what they mean, what is taken without them, how they were understood. */

const labels = {
  focal: 'Focal length',
  sensor: 'Sensor',
  'focal-px': 'Calibrated focal length',
  'lens-distortion': 'Lens distortion',
  readout: 'Sensor readout',
  shutter: 'Shutter angle',
  speed: 'Speed',
  travel: 'Travel',
  wheelbase: 'Wheelbase',
  'track-width': 'Track width',
  'wheel-diameter': 'Wheel diameter',
  'joint-spacing': 'Joint spacing',
  machine: 'Machines on the rig',
  mount: 'Ringing of the mount',
  mains: 'Mains',
  'camera-height': 'Camera height',
  'camera-offset': 'Lens ahead of the axles’ middle',
  'lens-azimuth': 'Lens against travel',
  head: 'Head',
  for: 'Delivery',
  'delivery-name': 'Own name of the delivery',
  deliver: 'Delivery size',
  'max-crop': 'Most crop',
  'max-residual': 'Most shake left',
  viewing: 'Viewing distance',
  floor: 'Floor or rail run',
  location: 'Location',
  lane: 'Lane',
  direction: 'Direction',
  setup: 'Setup',
  wheels: 'Wheels',
  track: 'Track or boards',
  'pass-number': 'Pass number',
  operator: 'Operator',
  production: 'Production',
  unit: 'Unit',
  'camera-roll': 'Camera roll',
  slate: 'Slate',
  'take-number': 'Take',
  mark: 'Mark',
  notes: 'Notes',
  tags: 'Tags',
  stabilise: 'Stabilised picture',
  smoothing: 'Smoothing',
  take: 'Length of the take',
  in: 'In',
  out: 'Out',
  width: 'Working width',
  cutoff: 'Where vibration begins',
  units: 'Units of the report',
} as const;

const choices = {
  stabilise: {
    'keep-move': 'keep the move',
    'hold-still': 'hold still',
    smoothest: 'smoothest within the crop',
  },
} as const;

/** By the names of the settings. */
export const settingTexts = {
  labels,
  /** Words of the values that can be chosen. */
  choices,
} as const;
