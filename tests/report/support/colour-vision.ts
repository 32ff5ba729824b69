/** Colours as eyes see them: colour deficiencies, greys, and how far apart two colours look. */

/** Red, green and blue in linear light, 0..1. */
export type Linear = readonly [number, number, number];
/** CIE L*a*b* of white D65. */
export type Lab = readonly [number, number, number];

/** A hex colour of three or six digits, without the hash. sRGB to linear light: IEC 61966-2-1. */
export function fromHex(hex: string): Linear {
  const full = hex.length === 3 ? [...hex].map((c) => c + c).join('') : hex;
  return [0, 2, 4].map((i) => {
    const v = parseInt(full.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  }) as unknown as Linear;
}

/** Relative luminance of WCAG 2.2, 0..1. */
export function luminance([r, g, b]: Linear): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio of WCAG 2.2, 1..21. */
export function contrast(a: Linear, b: Linear): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

/** Full colour deficiencies: Machado, Oliveira and Fernandes 2009, severity 1.0, on linear light; figures from memory. */
const DEFICIENCIES = {
  protanopia: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deuteranopia: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritanopia: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
} as const;
export type Deficiency = keyof typeof DEFICIENCIES;
export const DEFICIENCY_NAMES = Object.keys(DEFICIENCIES) as Deficiency[];

/** The colour that somebody with normal sight would have to see to see what these eyes do. */
export function seenBy(deficiency: Deficiency, [r, g, b]: Linear): Linear {
  const m = DEFICIENCIES[deficiency];
  return [0, 3, 6].map((i) =>
    Math.min(1, Math.max(0, m[i] * r + m[i + 1] * g + m[i + 2] * b)),
  ) as unknown as Linear;
}

/** CIE L*a*b* from linear sRGB, D65. */
export function labOf([r, g, b]: Linear): Lab {
  const f = (t: number): number => (t > 0.008856 ? Math.cbrt(t) : 7.787 * t + 16 / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const RAD = Math.PI / 180;

/** Colour difference CIEDE2000 with all weights 1, after Sharma, Wu and Dalal 2005 (formula from memory). */
export function ciede2000([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  const seventh = (c: number): number => Math.sqrt(c ** 7 / (c ** 7 + 25 ** 7));
  const g = 0.5 * (1 - seventh((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2));
  const [p1, p2] = [a1 * (1 + g), a2 * (1 + g)];
  const [c1, c2] = [Math.hypot(p1, b1), Math.hypot(p2, b2)];
  const hue = (a: number, b: number): number =>
    a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / RAD + 360) % 360;
  const [h1, h2] = [hue(p1, b1), hue(p2, b2)];
  const grey = c1 * c2 === 0;
  let turn = grey ? 0 : h2 - h1;
  if (turn > 180) turn -= 360;
  if (turn < -180) turn += 360;
  const bigHue = 2 * Math.sqrt(c1 * c2) * Math.sin((turn / 2) * RAD);
  const l = (l1 + l2) / 2;
  const c = (c1 + c2) / 2;
  let h = grey ? h1 + h2 : (h1 + h2) / 2;
  if (!grey && Math.abs(h1 - h2) > 180) h += h < 180 ? 180 : -180;
  const t =
    1 -
    0.17 * Math.cos((h - 30) * RAD) +
    0.24 * Math.cos(2 * h * RAD) +
    0.32 * Math.cos((3 * h + 6) * RAD) -
    0.2 * Math.cos((4 * h - 63) * RAD);
  const sl = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2);
  const dl = (l2 - l1) / sl;
  const dc = (c2 - c1) / (1 + 0.045 * c);
  const dh = bigHue / (1 + 0.015 * c * t);
  const rotation = -Math.sin(60 * Math.exp(-(((h - 275) / 25) ** 2)) * RAD) * 2 * seventh(c);
  return Math.sqrt(dl * dl + dc * dc + dh * dh + rotation * dc * dh);
}
