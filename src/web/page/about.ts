/** What the page has to know of the program before anything else, asked for once. */
import { signal } from '@preact/signals';
import type { About, Problem } from '../api.js';
import { getJson, problemOf } from './api-client.js';

/** Null until it is known. */
export const about = signal<About | null>(null);

/** Why it is not known; null otherwise. */
export const aboutProblem = signal<Problem | null>(null);

/** Asks; may be called again after a failure. */
export async function loadAbout(): Promise<void> {
  try {
    about.value = await getJson<About>('/api/about');
    aboutProblem.value = null;
  } catch (error) {
    aboutProblem.value = problemOf(error);
  }
}
