/** Release 2026.2 in German. */
import phrases from '../2026.2/phrases.de.json' with { type: 'json' };
import trade from '../2026.2/trade.de.json' with { type: 'json' };
import type { ReleaseWords } from './release-words.ts';

export const german: ReleaseWords = { phrases, trade };
