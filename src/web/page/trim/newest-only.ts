/** Does slow work for what is wanted last: one at a time, and what was asked for meanwhile and is no longer wanted is never begun. */

/** Work in hand. */
export interface NewestOnly<Wanted> {
  /** Asks for it: at once when nothing is in hand, else as soon as that is over, unless something newer is wanted by then. */
  want(wanted: Wanted): void;
  /** Nothing is begun or told any more. */
  close(): void;
}

/**
 * Makes it.
 * @param work for one wanted thing; a rejection is told as null
 * @param onDone told of each piece that was begun, in order
 */
export function newestOnly<Wanted, Result>(
  work: (wanted: Wanted) => Promise<Result>,
  onDone: (wanted: Wanted, result: Result | null) => void,
): NewestOnly<Wanted> {
  let isBusy = false;
  let isClosed = false;
  let next: { readonly wanted: Wanted } | null = null;

  const begin = async (wanted: Wanted): Promise<void> => {
    isBusy = true;
    const result = await work(wanted).catch(() => null);
    isBusy = false;
    if (isClosed) return;
    onDone(wanted, result);
    const following = next;
    next = null;
    if (following !== null) void begin(following.wanted);
  };

  return {
    want(wanted) {
      if (isClosed) return;
      if (isBusy) next = { wanted };
      else void begin(wanted);
    },
    close() {
      isClosed = true;
    },
  };
}
