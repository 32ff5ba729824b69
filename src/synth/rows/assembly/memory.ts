/** Where everything lies that drawing works with, and how it is read; arguments and globals of type usize are addresses in bytes. */

const PLANE_BYTES: usize = 72;
export const NUMBER_BYTES: usize = 32;
export const LOOK_BYTES: usize = 12;
export const NO_SURFACE: i32 = 0xffff;
export const STRETCH_PX: i32 = 16;
export const PLACES: i32 = 16;

export let width: i32 = 0;
export let straight: bool = true;
export let pixel: f64 = 1;
export let focalPx: f64 = 1;
export let centreXPx: f64 = 0;
let planes: usize = 0;
export let numbers: usize = 0;
export let looks: usize = 0;
export let rayX: usize = 0;
export let rayY: usize = 0;
export let active: usize = 0;
export let cutouts: usize = 0;
export let luma: usize = 0;
export let shown: usize = 0;

export let nearest: usize = 0;
export let edge: usize = 0;
export let over: usize = 0;
export let opacity: usize = 0;
export let stretchU: usize = 0;
export let stretchV: usize = 0;
export let stretchDepth: usize = 0;
export let texelU: usize = 0;
export let texelV: usize = 0;
export let listed: usize = 0;
export let spanFrom: usize = 0;
export let spanTo: usize = 0;
export let block: usize = 0;
export let blockFrom: usize = 0;
export let blockTo: usize = 0;
export let near: usize = 0;
export let filling: usize = 0;
export let places: usize = 0;
export let sumX: usize = 0;
export let sumY: usize = 0;
export let middleU: usize = 0;
export let middleV: usize = 0;
export let middleW: usize = 0;
export let largestW: usize = 0;
export let placeX: usize = 0;
export let placeY: usize = 0;
export let bestW: usize = 0;
export let bestAt: usize = 0;
export let placeColumn: usize = 0;

/** Bytes that stay where they are, at a multiple of 16; memory grows as it must. */
export function allocate(bytes: i32): usize {
  return heap.alloc(<usize>bytes);
}

function numbersOf(count: i32): usize {
  return heap.alloc((<usize>count + 2) << 3);
}

function countsOf(count: i32): usize {
  return heap.alloc((<usize>count + 2) << 2);
}

/**
 * Says where the numbers of a scene and the rows of its pictures lie; called once, before the first row.
 *
 * @param plane of each surface nine f64; see projected-surfaces.ts
 * @param number of each surface four f64: texels along, texels down, first along, first down
 * @param look of each surface three addresses: texture, light, opacity (0 for solid ones)
 * @param x,y rays of a row, width f64 and room for two more
 * @param actives,cutoutList surfaces of a row, u16
 * @param lumaRow,shownRow f32 with room for two more, u16: where a row is painted
 */
export function setUp(
  count: i32,
  columns: i32,
  isStraight: bool,
  pixelSize: f64,
  focal: f64,
  centreX: f64,
  plane: usize,
  number: usize,
  look: usize,
  x: usize,
  y: usize,
  actives: usize,
  cutoutList: usize,
  lumaRow: usize,
  shownRow: usize,
): void {
  width = columns;
  straight = isStraight;
  pixel = pixelSize;
  focalPx = focal;
  centreXPx = centreX;
  planes = plane;
  numbers = number;
  looks = look;
  rayX = x;
  rayY = y;
  active = actives;
  cutouts = cutoutList;
  luma = lumaRow;
  shown = shownRow;
  nearest = numbersOf(columns);
  edge = heap.alloc(<usize>columns + 16);
  over = countsOf(columns);
  opacity = countsOf(columns);
  stretchU = numbersOf(STRETCH_PX);
  stretchV = numbersOf(STRETCH_PX);
  stretchDepth = numbersOf(STRETCH_PX);
  texelU = numbersOf(STRETCH_PX);
  texelV = numbersOf(STRETCH_PX);
  listed = countsOf(count);
  spanFrom = numbersOf(count);
  spanTo = numbersOf(count);
  block = countsOf(count);
  blockFrom = numbersOf(count);
  blockTo = numbersOf(count);
  near = countsOf(count);
  filling = countsOf(count);
  places = countsOf(count);
  sumX = numbersOf(count);
  sumY = numbersOf(count);
  middleU = numbersOf(count);
  middleV = numbersOf(count);
  middleW = numbersOf(count);
  largestW = numbersOf(count);
  placeX = numbersOf(PLACES);
  placeY = numbersOf(PLACES);
  bestW = numbersOf(PLACES);
  bestAt = numbersOf(PLACES);
  placeColumn = numbersOf(PLACES);
  for (let s = 0; s < PLACES; s++) {
    const reversed = ((s & 1) << 3) | ((s & 2) << 1) | ((s & 4) >> 1) | ((s & 8) >> 3);
    put(placeColumn, s, <f64>reversed);
  }
}

/** Number `index` of a list of f64. */
export function get(list: usize, index: i32): f64 {
  return load<f64>(list + ((<usize>index) << 3));
}

/** Sets number `index` of a list of f64. */
export function put(list: usize, index: i32, value: f64): void {
  store<f64>(list + ((<usize>index) << 3), value);
}

/** Number `index` of a list of i32. */
export function count4(list: usize, index: i32): i32 {
  return load<i32>(list + ((<usize>index) << 2));
}

/** Sets number `index` of a list of i32. */
export function putCount(list: usize, index: i32, value: i32): void {
  store<i32>(list + ((<usize>index) << 2), value);
}

/** Number `index` of a list of u16: which surface. */
export function id(list: usize, index: i32): i32 {
  return <i32>load<u16>(list + ((<usize>index) << 1));
}

/** Nine f64 of surface i. */
export function planeOf(i: i32): usize {
  return planes + <usize>i * PLANE_BYTES;
}
