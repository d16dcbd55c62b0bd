import type { Words } from '../../session/words.ts';

/** A side as the word that stands on every screen; an empty one was never recorded. */
export const sideWord = (w: Words, side: string): string => w(`side.${side || 'none'}`);
