import type { Role } from '../../content/ids.ts';

/** An entry that lists somebody, and the entry that struck it. */
export interface Listing {
  n: number;
  role: Role;
  struckBy: number | null;
}

/** Entries that list the name of a signature: those that stood when it was signed, and those that came since. */
export interface Standing {
  before: Listing[];
  since: Listing[];
}
