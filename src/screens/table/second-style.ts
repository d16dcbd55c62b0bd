/** How the table looks by the second ladder. */
import { adoptStyle } from '../../parts/adopt-style.ts';
import rules from './second.css?inline';

adoptStyle(rules);
