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

/** What a text was understood as; figures come printed. */
const understood = {
  mm: (figure: string): string => `${figure} mm`,
  m: (figure: string): string => `${figure} m`,
  mmWide: (figure: string): string => `${figure} mm wide`,
  mps: (figure: string): string => `${figure} m/s`,
  ms: (figure: string): string => `${figure} ms`,
  s: (figure: string): string => `${figure} s`,
  minutes: (minutes: number, seconds: string): string =>
    seconds === '0' ? `${minutes} min` : `${minutes} min ${seconds} s`,
  hz: (figure: string): string => `${figure} Hz`,
  px: (figure: string): string => `${figure} px`,
  pxRms: (figure: string): string => `${figure} px RMS of the delivery`,
  deg: (figure: string): string => `${figure}°`,
  percentOfWidth: (figure: string): string => `${figure} % of the frame width`,
  heights: (figure: string): string => `${figure} heights of the screen`,
  globalShutter: '0 ms, a global shutter',
  focalPx: (figure: string, widthPx: number | null): string =>
    widthPx === null ? `${figure} px of this clip` : `${figure} px in a picture ${widthPx} px wide`,
  azimuth: (figure: string, deg: number): string => {
    if (deg === 0) return 'looks along the travel';
    if (Math.abs(deg) === 180) return 'looks back along the travel';
    return `${figure}° to the ${deg > 0 ? 'right' : 'left'} of the travel`;
  },
  size: (widthPx: number, heightPx: number): string => `${widthPx} × ${heightPx} px`,
  delivery: (size: string, crop: string, heights: string): string =>
    `${size}, most crop ${crop} %, watched from ${heights} heights`,
  tags: (tags: readonly string[]): string => tags.join(' · '),
  /** The same in feet and inches. */
  equal: (metric: string, imperial: string): string => `${metric} = ${imperial}`,
} as const;

/** By the names of the settings. */
export const settingTexts = {
  labels,
  /** Words of the values that can be chosen. */
  choices,
  understood,
} as const;
