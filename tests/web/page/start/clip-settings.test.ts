/** Several clips, one form: what they share, what each has of its own from its rig file, and where typed values go. */
import { describe, expect, it } from 'vitest';
import {
  cleared,
  ofNextPass,
  settingsFor,
  withExactly,
  withSetupFor,
  withTyped,
  type BatchSettings,
} from '../../../../src/web/page/start/clip-settings.js';

const CORRIDOR = { focal: '28mm', travel: '1.7m' };
const LOFT = { focal: '35mm', travel: '2.2m' };
const BATCH: BatchSettings = { shared: { sensor: 'Super 35' }, own: [CORRIDOR, LOFT, {}] };

const all = ({ shared, own }: BatchSettings) => own.map((one) => settingsFor(shared, one));

describe('settings of several clips', () => {
  it('are those of its own rig file for each, and what all share', () => {
    expect(all(BATCH)).toEqual([
      { sensor: 'Super 35', ...CORRIDOR },
      { sensor: 'Super 35', ...LOFT },
      { sensor: 'Super 35' },
    ]);
  });

  it('go to all clips when typed for all, also over a rig file', () => {
    const typed = withTyped(BATCH, 'all', 'travel', '2m');
    expect(all(typed).map(({ travel }) => travel)).toEqual(['2m', '2m', '2m']);
    expect(all(typed).map(({ focal }) => focal)).toEqual(['28mm', '35mm', undefined]);
  });

  it('go to one clip alone when typed for it', () => {
    const typed = withTyped(BATCH, 1, 'sensor', 'APS-C');
    expect(all(typed).map(({ sensor }) => sensor)).toEqual(['Super 35', 'APS-C', 'Super 35']);
  });

  it('can be taken from one clip that the others keep', () => {
    expect(all(withTyped(BATCH, 2, 'sensor', ''))[2]).toEqual({});
    expect(all(withTyped(BATCH, 0, 'sensor', '  '))[1]).toHaveProperty('sensor', 'Super 35');
  });

  it('leave no calibrated focal length of a rig file beside the one that was typed', () => {
    const calibrated = { shared: {}, own: [{ 'focal-px': '2666px' }] };
    expect(all(withTyped(calibrated, 'all', 'focal', '28'))).toEqual([{ focal: '28' }]);
    expect(all(withTyped(calibrated, 0, 'focal', '28'))).toEqual([{ focal: '28' }]);
  });

  it('take a delivery by name as a whole, over the figures of a rig file', () => {
    const limits = { shared: {}, own: [{ 'max-crop': '3%', deliver: '1920x1080' }] };
    expect(all(withTyped(limits, 'all', 'for', 'phone'))).toEqual([{ for: 'phone' }]);
  });

  it('are filled from a setup for all, or exactly for one', () => {
    const setup = { focal: '50mm', speed: '0.2m/s' };
    expect(all(withSetupFor(BATCH, 'all', setup)).map(({ focal, travel }) => [focal, travel])).toEqual([
      ['50mm', '1.7m'],
      ['50mm', '2.2m'],
      ['50mm', undefined],
    ]);
    const one = all(withSetupFor(BATCH, 1, setup));
    expect(one[1]).toEqual(setup);
    expect(one[0]).toEqual({ sensor: 'Super 35', ...CORRIDOR });
  });

  it('can be set exactly for one clip, whatever the others share', () => {
    expect(all(withExactly(BATCH, 1, { focal: '24mm' }))).toEqual([
      { sensor: 'Super 35', ...CORRIDOR },
      { focal: '24mm' },
      { sensor: 'Super 35' },
    ]);
  });

  it('are cleared for all or for one', () => {
    expect(all(cleared(BATCH, 'all'))).toEqual([{}, {}, {}]);
    expect(all(cleared(BATCH, 0)).map((one) => Object.keys(one).length)).toEqual([0, 3, 1]);
  });

  it('keep for the next clips what is not of one pass alone', () => {
    const shared = { focal: '28mm', travel: '1.7m', notes: 'door was open', 'pass-number': '3', lane: '2' };
    expect(ofNextPass(shared)).toEqual({ focal: '28mm', lane: '2' });
  });
});
