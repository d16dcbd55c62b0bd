/** Closed moves on one page, the last of them something that no card names. */
export const closedAtOnce = 4;

/** Pages of closed moves and of what no card names. */
export const closedPages = (closed: number): number => Math.ceil((closed + 1) / closedAtOnce);
