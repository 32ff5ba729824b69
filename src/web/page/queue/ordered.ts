/** The jobs that were ordered last from this page: the work view goes on to the result of one that was ordered alone. */
import { signal } from '@preact/signals';

/** Ids of the jobs of the last order; empty after a reload, and once their end was told. */
export const ordered = signal<readonly string[]>([]);
