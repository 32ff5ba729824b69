/** An arc under a rolling shutter, delivered wide: measured, rendered stabilised, looked at again. */
import { describeProof } from '../support/describe-proof.js';
import { ARC_BY_ROWS } from '../support/proof-passes.js';

describeProof('an arc filmed row by row for a wide screen', ARC_BY_ROWS, {
  otherWindows: true,
  pathIsSmooth: true,
});
