/** The words of the picture of time in German. */
import { count } from './base.ts';

export const tourniquet: string = 'Blutsperre';
/** Row of what is of no single screw. */
const all: string = 'Fall';
export { all as case };
export const screws = (n: number): string => `${n} Schrauben`;
export const out: string = 'draußen';
export const stays: string = 'bleibt';
export const isIn: string = 'drin';
export const looks = {
  cuff: 'Sperre zu',
  out: 'damit draußen',
  gain: 'mit Gewinn',
  'no-gain': 'ohne Gewinn',
  'open-end': 'Ende nicht eingetragen',
  stays: 'belassen',
};
export const signs = { slip: 'abgerutscht', broke: 'Bruch oder fest', off: 'Platte ab', stopped: 'Abbruch' };
export const alt = (rows: number, from: string, to: string): string =>
  `Wann: ${count(rows, 'Zeile', 'Zeilen')} mit Schritten zwischen ${from} und ${to}; der Zeitverlauf hat jeden Eintrag in Worten`;
