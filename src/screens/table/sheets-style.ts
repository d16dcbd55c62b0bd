/** How the sheets of the table look: none of them stands at a start. */
import { adoptStyle } from '../../parts/adopt-style.ts';
import rules from './sheets.css?inline';

adoptStyle(rules);
