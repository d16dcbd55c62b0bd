/** Real millimetres on this screen. */
import { uncalibratedPxPerMm } from '../parts/type-size.ts';
import type { Preferences } from './app.ts';

export const pxPerMm = ({ pxPerMm }: Pick<Preferences, 'pxPerMm'>): number => pxPerMm ?? uncalibratedPxPerMm;
