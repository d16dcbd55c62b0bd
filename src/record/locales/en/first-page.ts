/** The words of the page that is signed, in English. */
import { count, num } from './base.ts';

export const title = (side: string | null, bone: string, draft: boolean): string =>
  `${side === null ? 'Side not recorded' : `${side} ${bone}`}: removal of metalwork${draft ? ' (DRAFT)' : ''}`;

export const titles = {
  head: 'Case',
  done: 'What was done',
  when: 'When',
  staysIn: 'What stays in',
  metal: 'Account of the metal',
  annexes: 'Annexes',
  seal: 'Content and seal',
  missing: 'Not recorded',
  signature: 'Signature',
};

const placers = { 'same-team': 'the same team', 'other-team': 'another team', unknown: 'a team not known' };
/** "Plate, 8 screws listed; put in by another team 40 months before." */
export const metal = (
  construct: string,
  screws: number,
  by: keyof typeof placers | null,
  months: number | null,
): string =>
  [
    `${construct}, ${screws ? `${count(screws, 'screw')} listed` : 'no screw listed'}`,
    ...(by === null && months === null
      ? []
      : [
          `put in${by === null ? '' : ` by ${placers[by]}`}${months === null ? '' : ` ${count(Number(num(months)), 'month')} before`}`,
        ]),
  ].join('; ');

export const labels = {
  status: 'Status',
  case: 'Case',
  metal: 'Metal',
  work: 'Work',
  tourniquet: 'Tourniquet',
  staysIn: 'Stays in',
  mayStay: 'In or out, not known',
  openedAs: 'Side or bone',
  log: 'Log',
};
/** Of a piece that is not accounted for. */
export const mayStay: string = 'whether it is in is not known';
export const nothingStays: string = 'nothing, by the log';
export const staysUnknown: string = 'not recorded';

/** From when to when, with the offset; each null when nobody entered it. */
export const work = (day: string | null, from: string | null, to: string | null, lasted: string | null): string =>
  `${day === null ? '' : `${day}, `}${from === null ? 'start not recorded' : from} to ${to === null ? 'an end not recorded' : to}${lasted === null ? '' : ` (${lasted})`}`;

/** What a reader must know of the log as a whole. */
export const log = (entries: number, late: number, struck: number, outOfOrder: number, seal: string): string =>
  [
    count(entries, 'entry', 'entries'),
    ...(late ? [`${late} entered late`] : []),
    ...(struck ? [`${struck} struck`] : []),
    ...(outOfOrder ? [`${outOfOrder} OUT OF ORDER, for review`] : []),
    seal,
  ].join(', ');
export const seals = { whole: 'seals whole', unsealed: 'UNSEALED', broken: 'SEAL BROKEN' };

export const columns = ['Piece', 'listed', 'out', 'stays', 'closes'];
export const to = (least: string, most: string): string => `${least} to ${most}`;
export const unknown: string = 'not known';
export const notMeasured: string = 'not measured';
export const screws = (ids: readonly string[]): string => `screws ${ids.join(', ')}`;
export const tip = (tool: string, n: number): string => `tip of the ${tool} (entry ${n})`;
export const partOpen: string = 'NOT ACCOUNTED FOR';
export const nobodySpoke: string = 'nobody spoke of it';

/** The lists that the items are of: RCS England, Good Surgical Practice 2014; Joint Commission RC.02.01.03. */
export const missing = (labels: readonly string[]): string =>
  `Not recorded, of the lists of RCS England (2014) and the Joint Commission (RC.02.01.03): ${labels.join('; ')}`;
export const nothingMissing: string =
  'Every item of the lists of RCS England (2014) and the Joint Commission (RC.02.01.03) is recorded or marked as not applicable';
export const signHere: string = 'Signature, name, role, date and time: ______________________________';
export const noSentence: string = 'No move, no part and no stop was entered: not recorded';
export const annexes: string =
  'What follows is the whole record behind the page above: every item, every hold, every entry.';

/** Of screws that came out at the first go. */
export const turnedOut = (times: readonly string[]): string =>
  `turned out with the matched driver at ${times.join(', ')}`;
