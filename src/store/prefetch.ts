import type { Copy } from './port.ts';

/**
 * A copy whose first reading is under way before it is asked for. What another window writes after this call may be
 * missing from it: for who holds the right to write already, or only follows and is told of what comes.
 *
 * @example await prefetch(openDatabase()).read() // the reading that began with the call of `prefetch`
 */
export function prefetch<Row>(copy: Copy<Row>): Copy<Row> {
  let first: ReturnType<Copy<Row>['read']> | undefined = copy.read();
  // Whoever awaits it later gets the rejection; until then nobody does.
  first.catch(() => {});
  return {
    ...copy,
    read() {
      const reading = first ?? copy.read();
      first = undefined;
      return reading;
    },
  };
}
