/**
 * Prints how fast things are: `npm run bench`. Medians within one run on this machine, whatever else it does; compare the
 * ratios rather than the milliseconds.
 */
import { printKernelTable } from './speed-kernel.js';
import { printProofTable } from './speed-proof.js';

const write = (text: string): void => void process.stdout.write(text);

await printKernelTable(write);
await printProofTable(write);
