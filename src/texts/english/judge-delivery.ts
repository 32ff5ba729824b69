/** Deliveries: the names they are asked for by, and what was taken where the crew named less. */

/** What was assumed of a delivery. `name` is the key by which it is found again. */
export const deliveryTexts = {
  /** Names of the built-in deliveries; a crew types them, in any case and with any signs between. */
  presets: {
    phone: 'phone',
    phoneUpright: 'phone upright',
    webHd: 'web HD',
    uhdStream: 'UHD stream',
    bigScreen: 'big screen',
  },
  size: {
    name: 'delivery size',
    value: (widthPx: number, heightPx: number): string => `${widthPx} x ${heightPx} px`,
    matters: 'The residual shake is counted in its pixels; the crop in per cent does not depend on it.',
  },
  mostCrop: {
    name: 'most crop',
    value: (percent: number): string => `${percent} %`,
    matters: 'Decides the verdict: name what the framing can give.',
  },
  viewing: {
    name: 'viewing distance',
    value: (heights: number): string => `${heights} heights of the screen`,
    mattersForLimit:
      'The shake that may stay grows in step with it: from twice as far it may be twice as large.',
    mattersForAngle:
      'Shake is told as an angle at the eye by it; the limits were given and do not depend on it.',
  },
  mostLeft: {
    name: 'most residual shake',
    value: (px: number): string => `${px} px RMS`,
    matters: 'Decides the verdict: guidance between "not visible" and "visible but usable", no standard.',
  },
} as const;
