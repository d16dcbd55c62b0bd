/** The one share of a move that a card has room for. */
import { moveOfAny } from '../../content/names.ts';
import type { Content } from '../../content/types.ts';
import type { KindRow, MoveRow, Share } from './report.ts';

/** What a move is made for, and how often it came to that: out, or for a preparing move its gain. */
export const aimOf = ({ move, out, gain }: MoveRow | KindRow, content: Content): Share =>
  moveOfAny(content, move)?.aim === 'out' ? out : gain;
