/** The words of the page that is signed, in German. */
import { count, num } from './base.ts';

export const title = (side: string | null, bone: string, draft: boolean): string =>
  `${side === null ? 'Seite nicht eingetragen' : `${side} ${bone}`}: Metallentfernung${draft ? ' (ENTWURF)' : ''}`;

export const titles = {
  head: 'Fall',
  done: 'Was getan wurde',
  when: 'Wann',
  staysIn: 'Was drin bleibt',
  metal: 'Nachweis des Metalls',
  annexes: 'Anhänge',
  seal: 'Inhalt und Siegel',
  missing: 'Nicht eingetragen',
  signature: 'Unterschrift',
};

const placers = {
  'same-team': 'demselben Team',
  'other-team': 'einem anderen Team',
  unknown: 'einem nicht bekannten Team',
};
export const metal = (
  construct: string,
  screws: number,
  by: keyof typeof placers | null,
  months: number | null,
): string =>
  [
    `${construct}, ${screws ? `${count(screws, 'Schraube', 'Schrauben')} aufgeführt` : 'keine Schraube aufgeführt'}`,
    ...(by === null && months === null
      ? []
      : [
          `eingebracht${by === null ? '' : ` von ${placers[by]}`}${months === null ? '' : ` ${count(Number(num(months)), 'Monat', 'Monate')} zuvor`}`,
        ]),
  ].join('; ');

export const labels = {
  status: 'Stand',
  case: 'Fall',
  metal: 'Metall',
  work: 'Arbeit',
  tourniquet: 'Blutsperre',
  staysIn: 'Bleibt drin',
  mayStay: 'Drin oder draußen, nicht bekannt',
  openedAs: 'Seite oder Knochen',
  log: 'Protokoll',
};
/** Of a piece that is not accounted for. */
export const mayStay = 'ob es drin ist, ist nicht bekannt';
export const nothingStays: string = 'nach dem Protokoll nichts';
export const staysUnknown: string = 'nicht eingetragen';

export const work = (day: string | null, from: string | null, to: string | null, lasted: string | null): string =>
  `${day === null ? '' : `${day}, `}${from === null ? 'Beginn nicht eingetragen' : from} bis ${to === null ? 'Ende nicht eingetragen' : to}${lasted === null ? '' : ` (${lasted})`}`;

export const log = (entries: number, late: number, struck: number, outOfOrder: number, seal: string): string =>
  [
    count(entries, 'Eintrag', 'Einträge'),
    ...(late ? [`${late} nachgetragen`] : []),
    ...(struck ? [`${struck} gestrichen`] : []),
    ...(outOfOrder ? [`${outOfOrder} AUSSER DER REIHE, zu prüfen`] : []),
    seal,
  ].join(', ');
export const seals = { whole: 'Siegel heil', unsealed: 'OHNE SIEGEL', broken: 'SIEGEL GEBROCHEN' };

export const columns = ['Stück', 'aufgeführt', 'draußen', 'bleibt', 'Nachweis'];
export const to = (least: string, most: string): string => `${least} bis ${most}`;
export const unknown: string = 'nicht bekannt';
export const notMeasured: string = 'nicht gemessen';
export const screws = (ids: readonly string[]): string => `Schrauben ${ids.join(', ')}`;
export const tip = (tool: string, n: number): string => `Spitze: ${tool} (Eintrag ${n})`;
export const partOpen: string = 'NICHT NACHGEWIESEN';
export const nobodySpoke: string = 'niemand sprach davon';

/** The lists that the items are of: RCS England, Good Surgical Practice 2014; Joint Commission RC.02.01.03. */
export const missing = (labels: readonly string[]): string =>
  `Nicht eingetragen, aus den Listen von RCS England (2014) und Joint Commission (RC.02.01.03): ${labels.join('; ')}`;
export const nothingMissing: string =
  'Jeder Punkt der Listen von RCS England (2014) und Joint Commission (RC.02.01.03) ist eingetragen oder als nicht zutreffend vermerkt';
export const signHere: string = 'Unterschrift, Name, Funktion, Datum und Uhrzeit: ______________________________';
export const noSentence: string = 'Kein Schritt, kein Teil und kein Abbruch wurde eingetragen: nicht eingetragen';
export const annexes: string =
  'Was folgt, ist das ganze Protokoll hinter der Seite oben: jeder Punkt, jede Sperre, jeder Eintrag.';

/** Of screws that came out at the first go. */
export const turnedOut = (times: readonly string[]): string =>
  `mit dem passenden Schraubendreher herausgedreht um ${times.join(', ')}`;
