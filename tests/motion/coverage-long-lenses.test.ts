/** The stated 95 % intervals and bounds hold the true vibration about that often, over a hundred passes on long lenses. */
import { testCoverage } from './support/coverage-tests.js';

testCoverage('over a hundred passes on long lenses', 200, 300, [50, 85]);
