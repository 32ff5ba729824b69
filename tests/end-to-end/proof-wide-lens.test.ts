/** A lateral move past near things on a lens that bends lines: measured, rendered stabilised, looked at again. */
import { describeProof } from '../support/describe-proof.js';
import { WIDE_PAST_RAIL } from '../support/proof-passes.js';

describeProof('a move past a rail on a lens of barrel distortion', WIDE_PAST_RAIL, {
  otherWindows: false,
  pathIsSmooth: true,
});
