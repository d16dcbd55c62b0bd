/** The look of a rehearsal: comes with its script, so that no start has to fetch it. */
import { adoptStyle } from '../../parts/adopt-style.ts';
import rules from './rehearsal.css?inline';

adoptStyle(rules);
