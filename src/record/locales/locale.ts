import type { locale } from './en/index.ts';

/** Everything a locale provides: words in tables, sentences as functions. The English one is the reference. */
export type Locale = typeof locale;
