/** The order of ids when cases of several releases are counted together. */

/**
 * What was found, in the order of a release's own list; what that release lacks comes after it, by name.
 *
 * @param own ids of the release whose order counts
 * @example inOrder(['out', 'slipped'], ['tilted', 'slipped']) // ['slipped', 'tilted']
 */
export function inOrder<T extends string>(own: readonly T[], found: Iterable<T>): T[] {
  const all = new Set(found);
  const known = own.filter((id) => all.delete(id));
  return [...known, ...[...all].sort()];
}
