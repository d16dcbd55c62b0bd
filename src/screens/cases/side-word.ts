import type { Messages } from '../../format/messages.ts';

/** A side as the word that stands on every screen; an empty one was never recorded. */
export const sideWord = (w: Messages, side: string): string => w(`side.${side || 'none'}`);
