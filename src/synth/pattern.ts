/** Small periodic drawing surface for textures: luminance (or opacity) 0..1 in texels, with noise and soft-edged shapes. */

/** A periodic pattern; width and height are powers of two. */
export interface Pattern {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** A pattern of one value. */
export function plain(width: number, height: number, value: number): Pattern {
  return { width, height, values: new Float32Array(width * height).fill(value) };
}

interface Lattice {
  readonly index: Int32Array;
  readonly next: Int32Array;
  readonly share: Float32Array;
}

function lattice(length: number, cells: number): Lattice {
  const index = new Int32Array(length);
  const next = new Int32Array(length);
  const share = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    const at = ((i + 0.5) * cells) / length;
    const whole = Math.floor(at);
    const t = at - whole;
    index[i] = whole % cells;
    next[i] = (whole + 1) % cells;
    share[i] = t * t * t * (t * (6 * t - 15) + 10);
  }
  return { index, next, share };
}

/**
 * Adds smooth periodic noise: random values -amplitude..amplitude on cellsX x cellsY places, joined smoothly.
 *
 * @param random uniform generator in [0, 1)
 */
export function addNoise(
  pattern: Pattern,
  cellsX: number,
  cellsY: number,
  amplitude: number,
  random: () => number,
): void {
  const { width, height, values } = pattern;
  const knots = Float32Array.from({ length: cellsX * cellsY }, () => amplitude * (2 * random() - 1));
  const across = lattice(width, cellsX);
  const down = lattice(height, cellsY);
  for (let y = 0; y < height; y++) {
    const upper = down.index[y] * cellsX;
    const lower = down.next[y] * cellsX;
    const dy = down.share[y];
    for (let x = 0; x < width; x++) {
      const i = across.index[x];
      const j = across.next[x];
      const dx = across.share[x];
      const a = knots[upper + i] + dx * (knots[upper + j] - knots[upper + i]);
      const b = knots[lower + i] + dx * (knots[lower + j] - knots[lower + i]);
      values[y * width + x] += a + dy * (b - a);
    }
  }
}

/** Adds noise of several sizes, each half the cell and `falloff` times the amplitude of the one before. */
export function addFractalNoise(
  pattern: Pattern,
  cellsX: number,
  cellsY: number,
  octaves: number,
  amplitude: number,
  falloff: number,
  random: () => number,
): void {
  let level = amplitude;
  for (let octave = 0; octave < octaves; octave++) {
    const x = cellsX << octave;
    const y = cellsY << octave;
    if (x > pattern.width || y > pattern.height) return;
    addNoise(pattern, x, y, level, random);
    level *= falloff;
  }
}

/** Calls `visit(index, distance)` for texels of a box around a shape, wrapping at the borders. */
function around(
  pattern: Pattern,
  left: number,
  top: number,
  right: number,
  bottom: number,
  distance: (x: number, y: number) => number,
  visit: (at: number, cover: number) => void,
): void {
  const { width, height } = pattern;
  for (let y = Math.floor(top) - 2; y <= bottom + 2; y++) {
    for (let x = Math.floor(left) - 2; x <= right + 2; x++) {
      const cover = 0.5 - distance(x + 0.5, y + 0.5);
      if (cover <= 0) continue;
      visit((y & (height - 1)) * width + (x & (width - 1)), Math.min(1, cover));
    }
  }
}

/** What a shape does to a texel: moves it towards `value` by its cover. */
function paint(pattern: Pattern, value: number): (at: number, cover: number) => void {
  return (at, cover) => {
    pattern.values[at] += cover * (value - pattern.values[at]);
  };
}

/** Paints a rectangle with soft borders, corners in texels. */
export function paintBox(
  pattern: Pattern,
  left: number,
  top: number,
  right: number,
  bottom: number,
  value: number,
): void {
  const distance = (x: number, y: number) => Math.max(left - x, x - right, top - y, y - bottom);
  around(pattern, left, top, right, bottom, distance, paint(pattern, value));
}

/** Paints a line of the given thickness with round ends. */
export function paintLine(
  pattern: Pattern,
  fromX: number,
  fromY: number,
  toX: number,
  toY: number,
  thickness: number,
  value: number,
): void {
  const dx = toX - fromX;
  const dy = toY - fromY;
  const squared = dx * dx + dy * dy || 1;
  const half = thickness / 2;
  const distance = (x: number, y: number) => {
    const t = Math.min(1, Math.max(0, ((x - fromX) * dx + (y - fromY) * dy) / squared));
    return Math.hypot(x - fromX - t * dx, y - fromY - t * dy) - half;
  };
  around(
    pattern,
    Math.min(fromX, toX) - half,
    Math.min(fromY, toY) - half,
    Math.max(fromX, toX) + half,
    Math.max(fromY, toY) + half,
    distance,
    paint(pattern, value),
  );
}

/** Paints a ring, or a disc when the thickness reaches twice the radius. */
export function paintRing(
  pattern: Pattern,
  centreX: number,
  centreY: number,
  radius: number,
  thickness: number,
  value: number,
): void {
  const outer = radius + thickness / 2;
  const distance = (x: number, y: number) =>
    Math.abs(Math.hypot(x - centreX, y - centreY) - radius) - thickness / 2;
  around(
    pattern,
    centreX - outer,
    centreY - outer,
    centreX + outer,
    centreY + outer,
    distance,
    paint(pattern, value),
  );
}

/** Paints an upright ellipse. */
export function paintEllipse(
  pattern: Pattern,
  centreX: number,
  centreY: number,
  radiusX: number,
  radiusY: number,
  value: number,
): void {
  const scale = Math.min(radiusX, radiusY);
  const distance = (x: number, y: number) =>
    (Math.hypot((x - centreX) / radiusX, (y - centreY) / radiusY) - 1) * scale;
  around(
    pattern,
    centreX - radiusX,
    centreY - radiusY,
    centreX + radiusX,
    centreY + radiusY,
    distance,
    paint(pattern, value),
  );
}

/** Scatters dark and light dabs, as years of paint and knocks leave them; radii in texels, small ones are commoner. */
export function addDabs(
  pattern: Pattern,
  count: number,
  smallest: number,
  largest: number,
  dark: number,
  light: number,
  random: () => number,
): void {
  for (let i = 0; i < count; i++) {
    const radius = smallest + (largest - smallest) * random() ** 2;
    const x = pattern.width * random();
    const y = pattern.height * random();
    paintEllipse(pattern, x, y, radius, radius * (0.6 + 0.7 * random()), random() < 0.65 ? dark : light);
  }
}

/** Holds all values within [lowest, highest]. */
export function limit(pattern: Pattern, lowest: number, highest: number): Pattern {
  const { values } = pattern;
  for (let i = 0; i < values.length; i++) values[i] = Math.min(highest, Math.max(lowest, values[i]));
  return pattern;
}
