/** The words of the list of cases, in English: they come with it. A translation brings all of its words at once. */
import list from '../../content/words/en/list.json' with { type: 'json' };
import { addWords } from './messages.ts';

addWords(list);
