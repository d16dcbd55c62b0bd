/** The present release in German, with all words of the screens, for tests that want them at hand. */
import { german as release } from '../../content/releases/2026.1.de.ts';
import type { Translation } from '../../content/translation.ts';
import { words } from '../../content/words/de/all.ts';

export const german: Translation = { ...release, words: [words] };
