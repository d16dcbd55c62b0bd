/** German: what of it is always there, and where the rest is fetched from. */
import type { LanguageFiles } from '../language-files.ts';
import reasons from './reasons.json' with { type: 'json' };

export const german: LanguageFiles = {
  name: 'Deutsch',
  invented: 'ERFUNDEN',
  reasons,
  words: async () => (await import('./all.ts')).words,
  releases: {
    '2026.1': async () => (await import('../../releases/2026.1.de.ts')).german,
    '2026.2': async () => (await import('../../releases/2026.2.de.ts')).german,
    '2026.2-draft': async () => (await import('../../releases/2026.2.de.ts')).german,
  },
};
