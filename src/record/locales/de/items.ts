/** The items of the note in German: labels, and what the log itself knows under them. */
import type { Role } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import { events } from './entries-2.ts';
import { some } from '../../../format/prose.ts';
import { at, and, clean, count, mm, notRecorded, num, percent, roles, screw } from './base.ts';

export const notApplicableWritten: string = 'als nicht zutreffend geschrieben';
export const writtenAt = (text: string, time: string): string => `${text} (geschrieben ${at(time)})`;
export const fromTheLog = (line: string): string => `aus dem Protokoll: ${line}`;

export const team: Record<Role, string> = {
  surgeon: 'Operateur',
  assistant: 'Assistenz',
  anaesthetist: 'Anästhesie',
  scrub: 'Instrumentierende Pflege',
  circulating: 'Springer',
  other: 'Weitere',
};

export const atTablet: string = 'Am Tablet';
export const tabletSince = (time: string, who: string | null, role: Role): string =>
  `seit ${time}: ${who === null ? roles[role] : `${who} (${roles[role]})`}`;

export const times = {
  date: 'Datum',
  zone: 'Zeitzone aller Zeiten unten',
  noZone: 'UTC, da kein Fall eröffnet wurde',
  clock: 'Uhr aller Zeiten unten',
  byWall: (n: number): string =>
    `Saaluhr, nach dem Vergleich in Eintrag ${n}; was das Gerät zeigte, steht daneben, wo es abweicht`,
  byDevice: 'Uhr des Geräts, wie angezeigt',
  takenOver: (n: number, device: string): string =>
    `ab Eintrag ${n} die von: ${device}; ob beide übereinstimmen, wurde nicht bestätigt`,
  device: (time: string): string => ` (Gerät ${time})`,
  opened: 'Fall eröffnet',
  started: 'Arbeit begonnen',
  ended: 'Arbeit beendet',
  closed: 'Fall abgeschlossen',
  duration: 'Dauer der Arbeit',
  upToLast: (duration: string): string => `${duration} bis zum letzten Eintrag`,
};

export const labels = {
  urgency: 'Geplant oder Notfall',
  planned: 'Geplanter Eingriff',
  procedure: 'Durchgeführter Eingriff',
  diagnosis: 'Diagnose (vor der Operation)',
  findings: 'Operationsbefund',
  extra: 'Zusätzliche Schritte und warum',
  implants: (content: Content): string => `${content.phrases.noteFields.implants}, mit Seriennummern`,
  closure: 'Art des Wundverschlusses',
  antibiotic: 'Antibiotikaprophylaxe',
  images: 'Röntgenbilder',
  instructions: 'Nachbehandlung',
};

export const before = {
  placedBy: 'Metall eingebracht von',
  placed: { 'same-team': 'demselben Team', 'other-team': 'einem anderen Team', unknown: 'nicht bekannt' },
  placedMonths: 'Im Körper seit',
  months: (amount: number): string => count(amount, 'Monat', 'Monaten'),
  confirmed: 'Bestätigte Punkte der Aufklärung',
  notConfirmed: 'Als nicht bestätigt eingetragene Punkte der Aufklärung',
  open: 'Punkte der Aufklärung, die niemand eingetragen hat',
  limits: 'Am Ende geltende Grenzen',
  bone: (lower: number, upper: number, cite: string): string =>
    `Knochen: untere Grenze ${percent(lower)} und obere Grenze ${percent(upper)} des Kortikalisrings auf einer Höhe${cite}`,
  tourniquet: (limit: number | null, cite: string): string =>
    `Blutsperre: ${limit === null ? 'keine Grenze gesetzt' : `${num(limit)} min`}${cite}`,
  setForCase: (n: number): string => `für diesen Fall gesetzt, Eintrag ${n}`,
  theatre: (planned: number | null): string => `OP-Zeit: ${planned === null ? notRecorded : `${num(planned)} min`}`,
};

const are = (names: readonly string[]) => (names.length === 1 ? 'ist' : 'sind');

export const screwsOut = (
  out: number,
  of: number,
  left: string[],
  open: { stop: string[]; nobody: string[] },
  parts: string[],
): string[] =>
  some(
    `von ${count(of, 'aufgeführten Schraube', 'aufgeführten Schrauben')} ${out === 1 ? 'ist' : 'sind'} ${out} draußen`,
    left.length > 0 && `belassen: ${and(left)}`,
    open.stop.length > 0 && `beim Abbruch der Arbeit noch im Körper: ${and(open.stop)}`,
    open.nobody.length > 0 && `${and(open.nobody)} ${are(open.nobody)} weder draußen noch belassen`,
    ...parts,
  );

export function finding(entry: EntryOf<'found'>, time: string): string {
  const yes = (value: boolean | undefined, what: string) =>
    value !== undefined && `${what} ${value ? 'steht vor' : 'steht nicht vor'}`;
  const facts = some(
    yes(entry.headProud, 'Kopf'),
    yes(entry.shankProud, 'Schaft'),
    yes(entry.tipProud, 'Spitze an der fernen Kortikalis'),
    entry.corridor !== undefined && `${entry.corridor ? 'freier' : 'kein freier'} Weg auf der Gegenseite`,
    entry.fragmentLength !== undefined && `Stück ${mm(entry.fragmentLength)} lang`,
    entry.nearSurface !== undefined &&
      `oberes Ende im sitzenden Zustand ${mm(Math.abs(entry.nearSurface))} ${entry.nearSurface < 0 ? 'unter' : 'über'} der nahen Kortikalis`,
  );
  return `${screw(entry.screw)} ${at(time)}: ${facts.join(', ') || 'angesehen, kein Befund eingetragen'}`;
}

export const problems = {
  slips: (n: number, screws: string): string => `${n}-mal abgerutscht (${screws})`,
  heads: (n: number, screws: string): string => `${count(n, 'Kopf ging', 'Köpfe gingen')} ab (${screws})`,
  shanks: (n: number, screws: string): string => `${count(n, 'Schaft', 'Schäfte')} gebrochen (${screws})`,
  brokenTools: (n: number, screws: string): string => `${count(n, 'Werkzeug', 'Werkzeuge')} gebrochen (${screws})`,
  jammedTools: (n: number, screws: string): string => `${count(n, 'Werkzeug', 'Werkzeuge')} festgesteckt (${screws})`,
  damaged: (n: number): string => `${count(n, 'Werkzeug', 'Werkzeuge')} als beschädigt eingetragen`,
  outOfOrder: (n: number): string => `${count(n, 'Eintrag', 'Einträge')} außer der Reihe, zur Durchsicht`,
  impossible: (n: number): string =>
    `Eintrag ${n}: nach den angegebenen Zeiten ein Ende vor dem eigenen Beginn; zur Durchsicht`,
  stopped: (time: string, reason: string | null, more: string | null): string =>
    `Arbeit abgebrochen um ${time}, ${reason === null ? 'Grund nicht eingetragen' : `Grund: ${reason}`}${more === null ? '' : ` (${more})`}`,
  conflict: (a: number, b: number): string =>
    `die Einträge ${a} und ${b} können so nicht beide stimmen; zur Durchsicht`,
};

export const event = (entry: EntryOf<'event'>, time: string): string =>
  [
    `${events[entry.kind]}, ${at(time)}`,
    ...some(
      entry.screw !== undefined && screw(entry.screw),
      entry.where !== undefined && clean(entry.where),
      entry.text !== undefined && clean(entry.text),
    ),
  ].join(', ');

export const noExtra: string =
  'kein Schritt über das Herausdrehen mit dem passenden Schraubendreher hinaus wurde eingetragen';
export const extra = (id: string, time: string, move: string, stage: string): string =>
  `${screw(id)} ${at(time)}: ${move}, Anlass: ${stage}`;

export const bored = (id: string, bores: string[], entered: boolean): string =>
  `Knochen aufgebohrt an ${screw(id)}: ${and(bores)}, ${entered ? 'wie eingetragen' : 'wie vom Schritt zu erwarten, nicht gemessen'}`;

export const blood = (ml: number, time: string): string => `${num(ml)} ml, eingetragen ${at(time)}`;
export const dose = (drug: string, amount: string | undefined, time: string): string =>
  `${clean(drug)}, ${amount === undefined ? 'Dosis nicht eingetragen' : clean(amount)}, ${at(time)}`;

export const tourniquet = {
  pressure: (mmHg: number | undefined): string =>
    mmHg === undefined ? 'Druck nicht eingetragen' : `${num(mmHg)} mmHg`,
  down: (up: string, down: string, lasted: string, pastLimit: number | null, pressure: string): string =>
    `zu ${up}, offen ${down}, ${lasted}${pastLimit === null ? '' : `, an oder über der Grenze von ${num(pastLimit)} min`}; ${pressure}`,
  up: (up: string, lasted: string, pressure: string): string =>
    `zu ${up}, Öffnen nicht eingetragen, ${lasted} bis zum letzten Eintrag; ${pressure}`,
  onlyDown: (down: string, n: number): string =>
    `offen ${down} (Eintrag ${n}): dass sie da zu war, steht nicht im Protokoll`,
  total: (total: string, limit: number | null): string =>
    `${total} insgesamt; ${limit === null ? 'keine Grenze gesetzt' : `Grenze ${num(limit)} min`}`,
};

export const noUnit: string = '(Einheit nicht eingetragen)';
export const images = (shots: number, doses: string[]): string =>
  `${count(shots, 'Röntgenbild', 'Röntgenbilder')}; Dosis ${doses.length ? and(doses) : notRecorded}`;

export const found = {
  out: (name: string, n: number): string => `${name} draußen (Eintrag ${n})`,
  stays: (name: string, n: number): string => `${name} bleibt (Eintrag ${n})`,
  part: (name: string, words: string, n: number): string => `${name}: ${words} (Eintrag ${n})`,
};
export const foundAfter = (lines: string[]): string => `nach dem Abschluss gefunden oder gesagt: ${lines.join('; ')}`;

export const implants = (out: string[], left: string[], put: string[], stopped: string[]): string[] =>
  some(
    out.length > 0 && `entfernt: ${and(out)}`,
    left.length > 0 && `belassen: ${and(left)}`,
    stopped.length > 0 && `beim Abbruch der Arbeit noch im Körper: ${and(stopped)}`,
    put.length > 0 && `heute eingebracht: ${and(put)}`,
  );
