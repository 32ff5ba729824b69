import { describe, expect, it } from 'vitest';
import { renderHtml } from '../../src/report/index.js';
import { passForFlatness } from '../../src/surface/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import type { Change } from './support/made-up-run.js';

const page = (change?: Change): string => renderHtml(madeUpBundle(change), null);

describe('the published grades of the floor', () => {
  it('give no figure of flatness where too little of what it counts is there, and send nobody faster over this run', () => {
    const text = page((run) => {
      if (run.surface.flatness) Object.assign(run.surface.flatness, { equivalentFF: 198, heldShare: 0.26 });
    });
    expect(text).toMatch(/not enough of the needed waves: 26\s% of 80\s%/);
    expect(text).not.toMatch(/about 198|roll faster/);
  });

  it('give the figure from the roughness where the waves are there and the profile fails otherwise', () => {
    const text = page((run) => {
      if (run.surface.flatness) Object.assign(run.surface.flatness, { equivalentFF: 198, heldShare: 0.9 });
    });
    expect(text).toContain('about 198');
    expect(text).not.toContain('not enough of the needed waves');
  });

  it('tell the class between joints from the class as rolled', () => {
    const text = page((run) =>
      Object.assign(run.surface, { isoClass: 'A-3', ci95Class: null, isoClassAsRolled: 'B' }),
    );
    expect(text).toContain('between joints A-3, as rolled B');
  });
});

describe('the pass that would hold what flatness counts', () => {
  it('is faster and longer than one that does not', () => {
    const pass = passForFlatness([0.03, 0.37], 0.3, 1.8);
    expect(pass?.speedMps).toBeGreaterThan(0.3);
    expect(pass?.speedMps).toBeLessThanOrEqual(2);
    expect(pass?.lengthM).toBeGreaterThanOrEqual(5);
  });

  it('is none where no dolly could be that fast', () => {
    expect(passForFlatness([0.03, 0.05], 0.3, 1.8)).toBeNull();
  });
});
