/** The words of the picture of time in English. */
import { count } from './base.ts';

export const tourniquet: string = 'tourniquet';
/** Row of what is of no single screw. */
const all: string = 'case';
export { all as case };
export const screws = (n: number): string => count(n, 'plain screw');
export const out: string = 'out';
export const stays: string = 'stays';
export const isIn: string = 'in';
export const looks = {
  cuff: 'cuff up',
  out: 'out by this move',
  gain: 'with gain',
  'no-gain': 'without gain',
  'open-end': 'end not recorded',
  stays: 'let stay',
};
export const signs = { slip: 'slip', broke: 'broke or jammed', off: 'plate off', stopped: 'work stopped' };
export const alt = (rows: number, from: string, to: string): string =>
  `When: ${count(rows, 'row')} of moves between ${from} and ${to}; the timeline has every entry in words`;
