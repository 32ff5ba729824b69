/** Small words that sentences are put together with; they belong to this language and stand in no sentence of their own. */

/** @example listed(['pan', 'tilt', 'roll']) // "pan, tilt and roll" */
export function listed(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** A sentence that may begin with a name. */
export function capital(sentence: string): string {
  return sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
}

/** A sentence after words that lead to it, such as "At 0.2 m/s:". */
export function continued(sentence: string): string {
  return sentence.slice(0, 1).toLowerCase() + sentence.slice(1);
}

/** Somebody else's words as a sentence. */
export function asSentence(words: string): string {
  const sentence = capital(words);
  return /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;
}

/**
 * A lens by its printed focal length. In a sentence it stands beside the word lens always, which keeps it in millimetres for a crew that
 * reads inches (`inUnits` of run/).
 *
 * @example aLens('18') // "an 18 mm lens"
 */
export function aLens(mm: string): string {
  return `${/^(8|11(?!\d)|18(?!\d))/.test(mm) ? 'an' : 'a'} ${mm} mm lens`;
}

/** Millimetres of a lens or a sensor in a cell, where no word lens stands beside them: the narrow space keeps them in millimetres. */
export function opticsMm(mm: string): string {
  return `${mm}\u202fmm`;
}
