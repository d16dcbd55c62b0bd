/** The releases of this build, by version, oldest first: the one place that names them. A case is read with the one it names. */
import { release2026_1 } from './2026.1.ts';
import type { ids as ids2026_2 } from '../2026.2/ids.ts';

/** Those that come with the start. */
export const releases = { '2026.1': release2026_1 };

/** The version that new cases are written with. */
export const currentVersion = '2026.1' satisfies keyof typeof releases;

/** Ids of those that are fetched (`content/later.ts`), for the types alone. */
export type LaterIds = typeof ids2026_2;
