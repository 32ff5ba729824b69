/**
 * Inner loops of drawing, in AssemblyScript: two pixels, or two places in a pixel, at a time. What they do is told in plain-rows.ts,
 * shading.ts, texture-sampling.ts, row-span.ts and edge-pixels.ts, which give the same pictures to the last bit: every sum and
 * product stands in their order.
 */
export { allocate, setUp } from './memory';
export { decideRow } from './fronts';
export { paintRow } from './paint';
