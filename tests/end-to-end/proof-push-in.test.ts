/** A push-in delivered upright, by a path that follows much of the shake: measured, rendered stabilised, looked at again. */
import { describeProof } from '../support/describe-proof.js';
import { PUSH_IN_FOLLOWED } from '../support/proof-passes.js';

describeProof('a push-in for an upright picture, weakly smoothed', PUSH_IN_FOLLOWED, {
  otherWindows: false,
  pathIsSmooth: false,
});
