/** The languages of this build besides English, by BCP 47 code: one line each. */
export { german as de } from './de/index.ts';
