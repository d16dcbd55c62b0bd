/** The hazardous situations of a release, with what keeps them from harm and the tests that prove it. */
import * as v from 'valibot';
import rows from './2026.1/hazards.json' with { type: 'json' };
import { Hazard } from './types.ts';

const files: Readonly<Record<string, unknown>> = { '2026.1': rows };

/**
 * The hazards of a released version, checked.
 *
 * @returns undefined when this build lacks that version
 * @throws ValiError when the release itself is faulty
 * @example hazardsOf('2026.1')?.[0]?.id // 'Z1'
 */
export const hazardsOf = (version: string): Hazard[] | undefined =>
  files[version] === undefined ? undefined : v.parse(v.array(Hazard), files[version]);
