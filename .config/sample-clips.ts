/** Films the clips of sample-clips/ anew: same settings, same clips. */
import path from 'node:path';
import { findTools } from '../src/footage/index.js';
import { writeSampleClips } from '../src/synth/index.js';

await writeSampleClips(path.resolve(import.meta.dirname, '../sample-clips'), await findTools());
