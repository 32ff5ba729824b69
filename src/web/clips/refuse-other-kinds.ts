/** Says of a file that is no clip what it seems to be, and what is wanted. */
import { clipTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import { fileKind } from './file-kind.js';

/**
 * @param first the first bytes of the file
 * @throws WebProblem 415 `not-a-clip`
 */
export function refuseOtherKinds(first: Uint8Array, name: string): void {
  const kind = fileKind(first);
  if (kind.isClip) return;
  const sentence = kind.is === 'unknown' ? clipTexts.seemsNothing(name) : clipTexts.seems(name, kind.is);
  throw new WebProblem(415, 'not-a-clip', sentence);
}
