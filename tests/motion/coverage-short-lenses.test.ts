/** The stated 95 % intervals and bounds hold the true vibration about that often, over a hundred passes on short lenses. */
import { testCoverage } from './support/coverage-tests.js';

testCoverage('over a hundred passes on short lenses', 0, 100, [24, 35]);
