/** The releases of this build, by version, oldest first: the one place that names them. A case is read with the one it names. */
import { release2026_1 } from './2026.1.ts';

export const releases = { '2026.1': release2026_1 };

/** The version that new cases are written with. */
export const currentVersion = '2026.1' satisfies keyof typeof releases;
