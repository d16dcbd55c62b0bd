/** Failures of the page's own code that nothing else caught. */

/**
 * Reports every error that was thrown or rejected and that nobody handled.
 *
 * @param onFailure what was thrown, in its own words. What a browser only remarks (an `error` event without an error,
 *   such as a layout that is observed twice in a frame) is not reported
 * @returns ends the watch
 * @example watchFailures((reason) => show(reason))
 */
export function watchFailures(onFailure: (reason: string) => void, page: EventTarget = window): () => void {
  const thrown = ({ error }: Partial<ErrorEvent>) => error !== null && error !== undefined && onFailure(wordsOf(error));
  const rejected = ({ reason }: Partial<PromiseRejectionEvent>) => onFailure(wordsOf(reason));
  page.addEventListener('error', thrown);
  page.addEventListener('unhandledrejection', rejected);
  return () => {
    page.removeEventListener('error', thrown);
    page.removeEventListener('unhandledrejection', rejected);
  };
}

/**
 * What was thrown, in its own words and on one line.
 *
 * @example wordsOf(new TypeError('x is not a function')) // 'TypeError: x is not a function'
 */
export const wordsOf = (thrown: unknown): string =>
  (thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown)).replace(/\s+/g, ' ').slice(0, 200);
