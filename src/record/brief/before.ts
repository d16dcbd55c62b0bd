import type { RecordFacts } from '../model.ts';

/** What of a record stands before its sentences do. */
export type Before = Pick<RecordFacts, 'screws' | 'parts' | 'started'>;
