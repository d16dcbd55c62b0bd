/** Release 2026.1 in German. */
import phrases from '../2026.1/phrases.de.json' with { type: 'json' };
import trade from '../2026.1/trade.de.json' with { type: 'json' };
import type { ReleaseWords } from './release-words.ts';

export const german: ReleaseWords = { phrases, trade };
