/** Brings the rules of the second ladder along with the first content that is fetched. */
import { comesAlong } from '../../content/catalog.ts';
import { learn } from '../second-ladder.ts';

comesAlong(async () => learn((await import('./second.ts')).second));
