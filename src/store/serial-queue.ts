/**
 * A queue: what is handed to it runs in the order of the calls, each step once the one before has ended, well or badly.
 *
 * @returns hands a step in; settles as that step does
 * @example const inTurn = serialQueue(); await Promise.all([inTurn(first), inTurn(second)]) // second begins after first
 */
export function serialQueue(): <T>(step: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (step) => {
    const next = last.then(step);
    // Whoever handed the step in is told; the next one does not wait for that.
    last = next.catch(() => {});
    return next;
  };
}
