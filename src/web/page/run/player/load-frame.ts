/** Fetches a frame of a run and decodes it. */

/**
 * The frame as a picture to draw.
 * @throws TypeError when the server cannot be reached, DOMException when it is no picture, Error for any other answer
 */
export async function getPicture(id: number, frame: number, signal: AbortSignal): Promise<ImageBitmap> {
  const answer = await fetch(`/api/runs/${id}/frames/${frame}`, { signal, credentials: 'same-origin' });
  if (!answer.ok) throw new Error(`frame ${frame} of run ${id}: ${answer.status}`);
  return createImageBitmap(await answer.blob());
}
