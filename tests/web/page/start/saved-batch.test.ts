/** What of a batch outlives a reload: read back as it was written, and taken for nothing when it is something else. */
import { describe, expect, it } from 'vitest';
import { savedBatchIn, type SavedBatch } from '../../../../src/web/page/start/saved-batch.js';

const SAVED: SavedBatch = {
  clips: [
    {
      id: '0f3a',
      name: 'tiled-corridor.mp4',
      sizeBytes: 1200,
      stretch: { in: '00:00:01:00', out: '7s and' },
      own: { focal: '28mm', sensor: '' },
      rig: { focal: '28mm' },
    },
    { id: '0f3b', name: 'loft.mp4', sizeBytes: 900, stretch: {}, own: {}, rig: null },
  ],
  shared: { speed: '0,3 m' },
  kept: ['speed'],
  selected: 1,
};

describe('a kept batch', () => {
  it('comes back as it was, half-typed fields too', () => {
    expect(savedBatchIn(JSON.stringify(SAVED))).toEqual(SAVED);
  });

  it.each([null, '', '{"clips":', '[]', '7', '{"clips":[],"shared":{"focal":28}}'])(
    'is none where %s was kept',
    (text) => expect(savedBatchIn(text)).toBe(null),
  );

  it('leaves out what is no clip, and a place that is none', () => {
    const odd = { ...SAVED, clips: [...SAVED.clips, { id: 3 }], kept: ['speed', 'focal', 4], selected: -1 };
    expect(savedBatchIn(JSON.stringify(odd))).toEqual({ ...SAVED, selected: null });
  });
});
