/** A worker that draws frames of one pass: started with the options and the textures, asked by frame number. */
import { parentPort, workerData } from 'node:worker_threads';
import { startFilm } from './film.js';
import type { WorkerAnswer, WorkerStart } from './frame-pool.js';
import { adoptTextures } from './texture-library.js';

const { options, textures } = workerData as WorkerStart;
adoptTextures(textures);
const film = startFilm(options);

parentPort?.on('message', (index: number) => {
  const bytes = film.frame(index);
  const answer: WorkerAnswer = { index, bytes };
  parentPort?.postMessage(answer, [bytes.buffer as ArrayBuffer]);
});
