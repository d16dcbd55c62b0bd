/** How the surgeon's page and the wall look: neither stands at a start. */
import { adoptStyle } from '../parts/adopt-style.ts';
import rules from './glance.css?inline';

adoptStyle(rules);
