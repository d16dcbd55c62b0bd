/** How the pages over all cases look: none stands at a start. */
import { adoptStyle } from '../parts/adopt-style.ts';
import rules from './across.css?inline';

adoptStyle(rules);
