/** How many moves have a number of one key; by the second ladder the next key leaves a screw for later. */
const keys = 8;

/** The key that leaves the called screw for later, by the second ladder. */
export const deferKey = 9;

/** The key that lets the called screw stay, by the second ladder. */
export const leaveKey = 0;

/**
 * The number of an offered move: its place in the ladder; by the second ladder none has the number of `deferKey`.
 *
 * @param place 0 for the first move offered
 * @example numberAt(8, true) // 10
 */
export const numberAt = (place: number, isSecond: boolean): number =>
  isSecond && place >= keys ? place + 2 : place + 1;
