/** The fixed ids, and those of the present release, for tests that walk over all of them. */
import { loadContent } from '../content/catalog.ts';
import { currentVersion } from '../content/releases/index.ts';
import type { Content } from '../content/types.ts';

export * from '../content/ids.ts';

export const {
  moves: moveIds,
  tools: toolIds,
  outcomes,
  holds: holdIds,
  notices: noticeIds,
  closed: closedReasons,
  consent: consentIds,
  noteFields,
  drives,
} = (loadContent(currentVersion) as Content).ids;
