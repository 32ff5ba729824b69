/** The options of `trundle measure`, in words of the trade. */
import type { ArgsDef } from 'citty';

/** Options of the rig, the delivery and the range, shared by every command that measures. */
export const MEASURE_ARGS = {
  rig: {
    type: 'string',
    valueHint: 'rig.json',
    description: 'rig file (JSON); options given here win over it',
  },
  focal: { type: 'string', valueHint: '35mm', description: 'focal length of the lens' },
  sensor: { type: 'string', valueHint: 'full-frame', description: 'sensor width in mm, or a format name' },
  'focal-px': {
    type: 'string',
    valueHint: '2666',
    description: 'focal length in px of the clip, when it was calibrated',
  },
  readout: { type: 'string', valueHint: '18ms', description: 'time the sensor takes to read one frame' },
  shutter: { type: 'string', valueHint: '180deg', description: 'shutter angle' },
  speed: { type: 'string', valueHint: '20cm/s', description: 'speed of the dolly' },
  travel: { type: 'string', valueHint: '3.2m', description: 'how far it rolled, from in to out' },
  wheelbase: { type: 'string', valueHint: '450mm', description: 'distance between the axles, to 5 mm' },
  'track-width': {
    type: 'string',
    valueHint: '400mm',
    description: 'distance between the left and right wheels',
  },
  'wheel-diameter': { type: 'string', valueHint: '80mm', description: 'diameter of the wheels' },
  'joint-spacing': { type: 'string', valueHint: '300mm', description: 'distance between joints, when known' },
  machine: {
    type: 'string',
    valueHint: '31Hz,1440rpm',
    description: 'frequencies at which motors, fans or gears of the rig run, when known',
  },
  mount: { type: 'string', valueHint: '7Hz', description: 'frequency at which the mount rings, when known' },
  mains: {
    type: 'string',
    valueHint: '50Hz',
    description: 'mains frequency where it was shot: 50Hz or 60Hz',
  },
  'camera-height': { type: 'string', valueHint: '0.9m', description: 'lens above the floor' },
  'camera-offset': {
    type: 'string',
    valueHint: '50mm',
    description: 'lens ahead of the middle between the axles',
  },
  'lens-azimuth': {
    type: 'string',
    valueHint: '90deg',
    description: 'lens against travel: 0 looks ahead, +90 to the right of it',
  },
  head: { type: 'string', valueHint: 'locked', description: 'locked, operated or self-levelling' },
  deliver: { type: 'string', valueHint: '1920x1080', description: 'delivery size in px' },
  'max-crop': {
    type: 'string',
    valueHint: '5%',
    description: 'most crop the crew accepts, per cent of the width',
  },
  'max-residual': {
    type: 'string',
    valueHint: '1.5px',
    description: 'most shake left after stabilising, px RMS of the delivery',
  },
  in: {
    type: 'string',
    valueHint: '00:00:02:00',
    description: 'in point: timecode, frames (50f) or seconds',
  },
  out: { type: 'string', valueHint: '9s', description: 'out point, first frame that is left out' },
  width: { type: 'string', valueHint: '960', description: 'picture width the analysis works at, px' },
  cutoff: {
    type: 'string',
    valueHint: '0.8Hz',
    description: 'where intended move ends and vibration begins',
  },
  'motion-log': {
    type: 'string',
    valueHint: 'log.csv',
    description:
      'angular rates recorded on the camera: timeS,panDegPerS,tiltDegPerS,rollDegPerS (or ...RadPerS)',
  },
  against: {
    type: 'string',
    valueHint: 'reports/slower-pass',
    description: 'run of the same rig at another speed: tells floor and wheels from machines',
  },
  'lay-over': {
    type: 'string',
    valueHint: 'reports/boards,reports/rail',
    description: 'runs of boards or rail measured before: foretells the shake of this dolly on them',
  },
} as const satisfies ArgsDef;
