import type { locale } from './en/index.ts';

/** What a language has to bring: words in tables, sentences as functions of what they tell. English is the measure. */
export type Locale = typeof locale;
