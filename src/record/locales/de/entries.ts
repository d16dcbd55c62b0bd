/** Every entry as one plain sentence in the past tense, in German. */
import type { AnyMoveId, ImageFinding, MoveId, Outcome, Role, ToolId } from '../../../../content/ids.ts';
import { boneName } from '../../../../content/names.ts';
import { inSentence } from '../../../../content/names.ts';
import { moveOf } from '../../../../content/moves.ts';
import type { Content } from '../../../../content/types.ts';
import type { Entry, EntryOf, EntryType } from '../../../../machines/entry.ts';
import { epoch, inZone } from '../../../../machines/time.ts';
import { semicolons, some, span } from '../../../format/prose.ts';
import { checkAsked, fill, isAssumed, type ListedFacts, type Running, type Telling } from '../telling.ts';
import { aboutPatient, afterwards, lengthWords, partName, placedBy, tellers2 } from './entries-2.ts';
import {
  and,
  answers,
  bore,
  clean,
  constructs,
  count,
  mm,
  num,
  percent,
  points,
  quoted,
  roles,
  screw,
  sides,
  tool,
  yesNo,
} from './base.ts';

/** Each move as an activity. */
const doing: Record<MoveId, string> = {
  'turn-out': 'Herausdrehen mit dem passenden Schraubendreher',
  'reseat-driver': 'Säubern des Antriebs, neues Ansetzen und noch einmal Drehen',
  'pack-recess': 'Füllen des Antriebs mit Folie und Drehen',
  'drive-oversize': 'Einschlagen eines engen Schraubendrehers und Drehen',
  'grip-head': 'Fassen des Kopfs von außen',
  'conical-extractor': 'Eindrehen des Ausdrehkonus von Hand',
  'reverse-tap': 'rundes Aufbohren des Antriebs und Einschneiden des Linksgewindeschneiders',
  'free-plate': 'Freimachen der Platte und Drehen von Schraube und Platte zusammen',
  'slot-head': 'Schneiden eines Schlitzes oder von Flächen in den Kopf und Drehen',
  'drill-head-off': 'Abbohren des Kopfs',
  'grip-shank': 'Fassen des stehenden Schafts und Drehen',
  'gouge-and-grip': 'Platzschaffen um den Schaft mit dem Hohlmeißel und Fassen',
  'far-side': 'Herausholen des Rests von der Gegenseite',
  'push-through': 'Hinaustreiben des Rests zur Gegenseite',
  'hollow-ream': 'Überfräsen des Schafts mit der Hohlfräse',
  'extraction-sleeve': 'Herausdrehen mit der Ausdrehhülse',
  'burr-out': 'Wegfräsen des Rests',
  uncover: 'Freilegen des Kopfs',
  'break-loose': 'Anklopfen der Schraube und Hin- und Herdrehen im Antrieb',
  'lift-and-turn': 'Ziehen an der Schraube und Drehen',
  'open-near-cortex': 'Aufbohren der nahen Kortikalis und Drehen',
  window: 'Öffnen eines Fensters im Knochen und Herausholen des Rests',
  'leave-in': 'Belassen',
};

/** The tool in a sentence when none was named, in the nominative with its article. */
const unnamed: Record<MoveId, string> = {
  'turn-out': 'der Schraubendreher',
  'reseat-driver': 'der Schraubendreher',
  'pack-recess': 'der Schraubendreher',
  'drive-oversize': 'der Schraubendreher',
  'grip-head': 'die Zange',
  'conical-extractor': 'der Ausdrehkonus',
  'reverse-tap': 'der Linksgewindeschneider',
  'free-plate': 'das Trennwerkzeug',
  'slot-head': 'das Werkzeug',
  'drill-head-off': 'der Bohrer',
  'grip-shank': 'die Zange',
  'gouge-and-grip': 'die Zange',
  'far-side': 'die Zange',
  'push-through': 'der Durchschlag',
  'hollow-ream': 'die Hohlfräse',
  'extraction-sleeve': 'die Ausdrehhülse',
  'burr-out': 'die Fräse',
  uncover: 'das Werkzeug',
  'break-loose': 'der Schraubendreher',
  'lift-and-turn': 'die Zange',
  'open-near-cortex': 'der Bohrer',
  window: 'das Werkzeug',
  'leave-in': 'das Werkzeug',
};

/** The move as an activity; a move without a phrase here by the label of its release. */
export const doingOf = (content: Content, move: AnyMoveId): string =>
  (doing as Partial<Record<string, string>>)[move] ?? inSentence(content, content.phrases.moves[move].label);

/** The article of each tool's label. Labels are feminine or compounds, so that no adjective in them changes after it. */
const articles: Record<ToolId, 'der' | 'die' | 'das'> = {
  'driver-hexagonal': 'der',
  'driver-hexalobular': 'der',
  'driver-cruciform': 'der',
  'driver-slotted': 'der',
  pick: 'das',
  mallet: 'der',
  'metal-foil': 'die',
  'head-gripper': 'die',
  'locking-pliers': 'die',
  'retired-rongeur': 'die',
  'conical-extractor': 'der',
  't-handle': 'der',
  'hard-metal-drill': 'der',
  'reverse-tap': 'der',
  'metal-cutting-burr': 'die',
  'metal-cutting-saw': 'die',
  'bolt-cutter': 'der',
  gouge: 'der',
  'hollow-reamer': 'die',
  'extraction-sleeve': 'die',
  'reversing-drive': 'die',
  punch: 'der',
  'image-intensifier': 'der',
  'fine-suction': 'der',
  irrigation: 'die',
  'narrow-forceps': 'die',
  elevator: 'das',
  osteotome: 'der',
  'bone-drill': 'der',
  'bone-saw': 'die',
  'long-handle': 'der',
  'nail-extractor': 'der',
};
const theTool = (content: Content, id: ToolId) =>
  `${(articles as Partial<Record<string, string>>)[id] ?? 'das Werkzeug'} ${tool(content, id)}`;

export const toolOf = (content: Content, running: Running | undefined): string =>
  running?.tool
    ? theTool(content, running.tool)
    : ((running && (unnamed as Partial<Record<string, string>>)[running.move]) ?? 'das Werkzeug');

/** A screw by its number, a tool after a colon: neither changes with its place in the sentence. */
const object = (content: Content, entry: { screw?: string | undefined; tool?: EntryOf<'left-in'>['tool'] }) =>
  entry.screw !== undefined ? screw(entry.screw) : tool(content, entry.tool ?? 't-handle');

/** How a move ended, without a capital or a full stop. */
export function outcome(content: Content, id: string, how: Outcome, running: Running | undefined): string {
  const name = screw(id);
  const held = toolOf(content, running);
  const rules = running && moveOf(content, running.move);
  if (how === 'slipped' && rules?.turnsInRecess) return `${held} ist im Antrieb von ${name} abgerutscht`;
  if (how === 'head-sheared' && rules?.aim === 'head-sheared') return `der Kopf von ${name} wurde abgebohrt`;
  if (how === 'set-up-done' && rules?.aim === 'head-sheared') return `der Kopf von ${name} wurde abgebohrt`;
  return fill(content.phrases.outcomes[how].sentence, { screw: name, tool: held, id: clean(id) });
}

const boresWords = (bores: EntryOf<'move-ended'>['bores']): string => (bores?.length ? and(bores.map(bore)) : 'keine');

const threads = { cortical: 'Kortikalisgewinde', cancellous: 'Spongiosagewinde', partly: 'Teilgewinde' } as const;
const forms = { solid: 'massiv', cannulated: 'kanüliert', headless: 'kopflos' } as const;
const drives = {
  hexagonal: 'Sechskant',
  hexalobular: 'Innensechsrund',
  cruciform: 'Kreuzschlitz',
  slotted: 'Schlitz',
} as const;
const metals = {
  steel: 'Stahl',
  titanium: 'Titan',
  'cobalt-chromium': 'Kobalt-Chrom',
  unknown: 'Material unbekannt',
} as const;

/** The form of a recess and its size, as far as they are known; null when the form is not. */
export const recess = ({ drive, driveSize }: ListedFacts): string | null =>
  drive === 'unknown' ? null : `${drives[drive]}${driveSize === undefined ? '' : ` ${num(driveSize)}`}`;

export const screwFacts = (entry: ListedFacts): string =>
  [
    entry.thread === null
      ? `Gewinde nicht bekannt, ${entry.diameter === null ? 'Durchmesser nicht bekannt' : mm(entry.diameter)}`
      : `${threads[entry.thread]} ${entry.diameter === null ? 'von unbekanntem Durchmesser' : mm(entry.diameter)}`,
    ...some(entry.form !== undefined && forms[entry.form]),
    isAssumed(entry, 'locking')
      ? 'ob winkelstabil, nicht bekannt'
      : entry.locking
        ? 'winkelstabil'
        : 'nicht winkelstabil',
    entry.drive === 'unknown'
      ? 'Form des Antriebs unbekannt'
      : `Antrieb ${drives[entry.drive]}`.concat(entry.driveSize === undefined ? '' : ` ${num(entry.driveSize)}`),
    metals[entry.material],
    entry.length === null ? 'Länge unbekannt' : `${mm(entry.length)} lang`,
    isAssumed(entry, 'cortices')
      ? 'Kortikales nicht bekannt'
      : entry.cortices === 1
        ? 'eine Kortikalis'
        : 'zwei Kortikales',
    ...some(entry.washer === true && 'mit Unterlegscheibe', entry.underPlate === false && 'nicht unter der Platte'),
  ].join(', ');

export function clockDifference(entry: EntryOf<'clock-compared'>, zone?: string): string {
  const seconds = Math.round((epoch(entry.theatreClock) - epoch(entry.at)) / 1000);
  const reading =
    zone === undefined ? clean(entry.theatreClock).slice(11, 19) : inZone(epoch(entry.theatreClock), zone).time;
  if (seconds === 0) return `sie zeigte ${reading}, dasselbe wie dieses Gerät`;
  return `sie zeigte ${reading}, ${span(seconds)} ${seconds > 0 ? 'vor' : 'hinter'} diesem Gerät`;
}

const check = (label: string, value: boolean | undefined) => `${label}: ${yesNo(value)}`;
const seen = (value: boolean | undefined, yes: string, no: string) => (value === undefined ? false : value ? yes : no);
const image = (taken: boolean | undefined) =>
  taken !== undefined && (taken ? 'ein Röntgenbild wurde gemacht' : 'kein Röntgenbild wurde gemacht');

const toldTo = {
  before: 'vorher gesagt',
  'patient-awake': 'dem wachen Patienten gesagt',
  relative: 'Angehörigen gesagt',
} as const;

export const countImages: Record<ImageFinding, string> = {
  clear: 'Röntgenbild gemacht, kein Metall darauf zu sehen',
  'metal-seen': 'Röntgenbild gemacht, Metall darauf zu sehen',
  'not-sure': 'Röntgenbild gemacht, unklar, was es zeigt',
  'not-taken': 'kein Röntgenbild wurde gemacht',
};

const otherChecks = [
  ['jawsSquare', 'Backen gerade'],
  ['edgeFree', 'Rand frei'],
  ['inAxis', 'in der Schraubenachse'],
  ['deepEnough', 'tief genug'],
  ['shankBare', 'Schaft frei'],
] as const;

/** The measures of a tool that stood in the room, as far as somebody told them. */
export const measures = (e: EntryOf<'tool-in-room'>): string[] =>
  some(
    e.size !== undefined && `Größe ${num(e.size)}`,
    e.fits && (e.fits.length ? `für Schrauben von ${and(e.fits.map(num))} mm` : 'für keine Schraubengröße'),
    e.inner !== undefined && `innen ${mm(e.inner)}`,
    e.outer !== undefined && `außen ${mm(e.outer)}`,
  );

export const tellers: { [T in EntryType]: (entry: EntryOf<T>, telling: Telling) => string } = {
  'case-opened': (e, { content }) =>
    semicolons(
      `der Fall wurde eröffnet als ${quoted(clean(e.label))}: ${boneName(content, clean(e.bone))} ${sides[e.side]}, ${constructs[e.construct]}`,
      e.planned === '' ? 'was geplant war, blieb leer' : `geplant: ${clean(e.planned)}`,
      e.urgency !== undefined && `Dringlichkeit: ${clean(e.urgency)}`,
      e.placedBy && placedBy(e.placedBy),
      e.placedMonthsAgo !== undefined && `vor ${count(e.placedMonthsAgo, 'Monat', 'Monaten')}`,
      e.theatreMinutes !== undefined && `${num(e.theatreMinutes)} min OP-Zeit geplant`,
      e.purpose === 'put-in' && 'Metall sollte eingebracht werden',
      ...aboutPatient(e),
    ),
  'person-listed': (e) =>
    `${clean(e.who)} wurde eingetragen als ${e.role === 'other' ? 'weitere Person im Saal' : roles[e.role]}`,
  'bone-measured': (e) =>
    `der Knochen${e.screw === undefined ? '' : ` an ${screw(e.screw)}`} wurde ${{ measured: 'gemessen', film: 'auf einem Film gemessen', assumed: 'angenommen' }[e.source]}: Außendurchmesser ${mm(e.outer)}, Kortikalis ${mm(e.cortex)}${e.plusMinus === undefined ? '' : `, ± ${mm(e.plusMinus)}`}`,
  'screw-listed': (e, { content, again }) =>
    semicolons(
      `${screw(e.screw)} wurde ${again ? 'erneut ' : ''}aufgeführt: ${screwFacts(e)}`,
      e.stage && e.stage !== 'seated' && `bekannter Stand: ${content.phrases.stages[e.stage].label}`,
    ),
  'tool-in-room': (e, { content }) => {
    const told = measures(e);
    return `${theTool(content, e.tool)}${told.length ? ` (${told.join('; ')})` : ''} war ${e.present ? '' : 'nicht '}im Saal`;
  },
  'consent-point': (e, { content }) =>
    `der Punkt der Aufklärung ${quoted(content.phrases.consent[e.point].label)} wurde ${e.confirmed ? 'bestätigt' : 'nicht bestätigt'}${e.toldTo === undefined ? '' : `, ${toldTo[e.toldTo]}`}`,
  'limits-set': (e) => {
    const set = some(
      e.boneConsider !== undefined && `untere Knochengrenze ${percent(e.boneConsider)} der Kortikalis`,
      e.boneStop !== undefined && `obere Knochengrenze ${percent(e.boneStop)} der Kortikalis`,
      e.tourniquetMinutes !== undefined && `Blutsperre ${num(e.tourniquetMinutes)} min`,
      e.theatreMinutes !== undefined && `OP-Zeit ${num(e.theatreMinutes)} min`,
    );
    return set.length ? `Grenzen wurden eingestellt: ${set.join('; ')}` : 'die Grenzen wurden ohne Änderung bestätigt';
  },
  'work-started': () => 'die Arbeit begann',
  'screw-called': (e) => `${screw(e.screw)} wurde aufgerufen`,
  'move-started': ({ screw: id, move, what, tool: named, reverseConfirmed, bores }, { content }) =>
    semicolons(
      `an ${screw(id)} begann: ${what === undefined ? doingOf(content, move) : `etwas anderes, ${quoted(clean(what))}`}${named ? `, Werkzeug: ${tool(content, named)}` : ''}`,
      reverseConfirmed === true && 'der Linkslauf der Maschine wurde bestätigt',
      reverseConfirmed === false && 'der Linkslauf der Maschine wurde nicht bestätigt',
      bores && `erwartete Bohrungen: ${boresWords(bores)}`,
    ),
  'move-ended': (e, { content, running }) => {
    const { screw: id, outcome: how, reachable, recovered, toolJammed, bores } = e;
    return semicolons(
      outcome(content, id, how, running),
      e.whole === true && 'sie war ganz, Spitze und Kopf gesehen',
      e.whole === false && 'sie war nicht ganz',
      reachable === true && 'der Stumpf war an der nahen Kortikalis noch zu erreichen',
      reachable === false && 'der Rest lag zu tief, um ihn an der nahen Kortikalis zu erreichen',
      recovered !== undefined && `${lengthWords(recovered, e.lengthHow)} davon geborgen`,
      toolJammed === true && `${toolOf(content, running)} steckte noch darin fest`,
      ...afterwards(e),
      bores && `gemachte Bohrungen: ${boresWords(bores)}`,
    );
  },
  reassessed: (e) =>
    semicolons(
      `${screw(e.screw)} wurde neu angesehen`,
      check('Antrieb gesäubert', e.checks.recessCleared),
      check('Schraubendreher ganz drin', e.checks.fullySeated),
      check('in der Achse', e.checks.inLine),
      check('frischer Schraubendreher', e.checks.freshDriver),
      ...otherChecks.map(([key, label]) => e.checks[key] !== undefined && check(label, e.checks[key])),
    ),
  'hold-answered': (e, { content }) =>
    semicolons(
      `der Halt ${quoted(content.phrases.holds[e.hold].label)}${e.screw === undefined ? '' : ` an ${screw(e.screw)}`} wurde beantwortet mit ${quoted(answers[e.answer])}${e.onWordOf === undefined ? '' : `, auf Ansage: ${clean(e.onWordOf)}`}`,
      e.reason !== undefined && `Grund: ${clean(e.reason)}`,
      e.checks !== undefined &&
        Object.entries(e.checks)
          .map(
            ([id, answer]) =>
              `${checkAsked(content, id)} ${{ yes: 'ja', no: 'nein', 'not-known': 'nicht bekannt' }[answer]}`,
          )
          .join(', '),
      e.seen !== undefined && `im Bild ${count(e.seen, 'Schraube', 'Schrauben')}`,
      e.out !== undefined && `draußen ${count(e.out, 'Schraube', 'Schrauben')}`,
      e.tool !== undefined && tool(content, e.tool),
      e.length !== undefined && lengthWords(e.length, e.lengthHow),
      image(e.imageTaken),
    ),
  found: (e) => {
    const things = some(
      seen(e.headProud, 'der Kopf stand vor', 'der Kopf stand nicht vor'),
      seen(e.shankProud, 'der Schaft stand vor', 'der Schaft stand nicht vor'),
      seen(
        e.tipProud,
        'die Spitze stand an der fernen Kortikalis vor',
        'die Spitze stand an der fernen Kortikalis nicht vor',
      ),
      seen(e.corridor, 'die Gegenseite hatte einen freien Weg', 'die Gegenseite hatte keinen freien Weg'),
      e.fragmentLength !== undefined && `das Stück war ${mm(e.fragmentLength)} lang`,
      e.nearSurface !== undefined &&
        (e.nearSurface < 0
          ? `sein oberes Ende lag ${mm(-e.nearSurface)} unter der nahen Kortikalis`
          : `sein oberes Ende stand im sitzenden Zustand ${mm(e.nearSurface)} über der nahen Kortikalis`),
      e.shankStands !== undefined && `der Schaft stand ${mm(e.shankStands)} über der nahen Kortikalis`,
      seen(e.headCovered, 'der Kopf war bedeckt', 'der Kopf war nicht bedeckt'),
      seen(
        e.openingsMeet,
        'ihre Öffnung im Knochen ging in die an einer anderen Schraube über',
        'ihre Öffnung im Knochen ging nicht in die an einer anderen Schraube über',
      ),
    );
    return `${screw(e.screw)} wurde angesehen: ${things.join('; ') || 'kein Befund wurde eingetragen'}`;
  },
  'plate-off': (e) =>
    e.part === undefined || e.part === 'plate'
      ? 'die Platte wurde vom Knochen abgenommen'
      : `vom Knochen abgenommen wurde: ${partName(e.part)}`,
  'colleague-called': (e) =>
    e.who === undefined ? 'jemand wurde hinzugerufen' : `jemand wurde hinzugerufen: ${clean(e.who)}`,
  'left-in': (e, { content }) =>
    semicolons(
      `${e.screw === undefined ? `ein abgebrochenes Stück Werkzeug (${object(content, e)})` : object(content, e)} wurde belassen, ${e.length === null ? 'Länge nicht gemessen' : lengthWords(e.length, e.lengthHow)}`,
      `wo: ${clean(e.where)}`,
      `warum: ${clean(e.reason)}`,
      e.decidedBy !== undefined && `entschieden von: ${clean(e.decidedBy)}`,
      image(e.imageTaken),
      e.toldTo !== undefined && `gesagt zu: ${clean(e.toldTo)}`,
    ),
  'piece-recovered': (e, { content }) => {
    const name = e.screw === undefined ? `Stück Werkzeug (${object(content, e)})` : `Stück von ${object(content, e)}`;
    const all = e.screw === undefined ? `das Stück Werkzeug (${object(content, e)})` : object(content, e);
    const length = e.length !== undefined && lengthWords(e.length, e.lengthHow);
    if (e.whole) return semicolons(`${all} war ganz draußen: heil, Spitze und Kopf gesehen`, length);
    if (e.complete === true)
      return semicolons(`${all} war ganz draußen: die Stücke wurden aneinandergelegt und sind vollständig`, length);
    return `ein ${name}, ${length ? `${length} lang` : 'Länge nicht gemessen'}, wurde geborgen`;
  },
  'tool-damaged': (e, { content }) =>
    semicolons(
      `${theTool(content, e.tool)} wurde beschädigt: ${clean(e.how)}`,
      e.tipMissing
        ? `die Spitze fehlte${e.length === undefined ? '' : `, ${lengthWords(e.length, e.lengthHow)} lang`}`
        : 'die Spitze fehlte nicht',
      e.kept !== undefined && (e.kept ? 'das Werkzeug wurde aufgehoben' : 'das Werkzeug wurde nicht aufgehoben'),
    ),
  tourniquet: (e) =>
    `die Blutsperre wurde ${e.to === 'up' ? 'angelegt' : 'geöffnet'}${e.pressure === undefined ? '' : `, ${num(e.pressure)} mmHg`}`,
  images: (e) =>
    `${count(e.shots, 'Röntgenbild wurde', 'Röntgenbilder wurden')} gemacht${e.dose === undefined ? '' : `, Dosis ${num(e.dose)} ${e.doseUnit === undefined ? '(Einheit nicht eingetragen)' : clean(e.doseUnit)}`}`,
  antibiotic: (e) => `${clean(e.drug)} wurde gegeben${e.dose === undefined ? '' : `, ${clean(e.dose)}`}`,
  'blood-loss': (e) => `der Blutverlust wurde mit ${num(e.ml)} ml angegeben`,
  'washed-out': () => 'das Feld wurde ausgespült',
  'clock-compared': (e, { zone }) =>
    `${e.source === 'station' ? 'die Uhr einer Station' : 'die Saaluhr'} wurde verglichen: ${clockDifference(e, zone)}`,
  'clock-jumped': (e) => `die Uhr des Geräts sprang um ${span(e.seconds)} ${e.seconds < 0 ? 'zurück' : 'vor'}`,
  'note-field': (e, { content }) =>
    `der Punkt ${quoted(content.phrases.noteFields[e.field])} wurde ${e.text === undefined ? 'als nicht zutreffend bezeichnet' : `ausgefüllt: ${clean(e.text)}`}`,
  'patient-told': (e) => {
    const named = e.points.length
      ? `über: ${and([...new Set(e.points)].map((point) => points[point]))}`
      : 'ohne genannten Punkt';
    return e.state === 'told'
      ? `dem Patienten wurde es gesagt von ${clean(e.by)}, ${named}`
      : `dem Patienten war es noch zu sagen von ${clean(e.by)}, ${named}`;
  },
  signed: (e) => `der Bericht wurde unterschrieben von ${clean(e.who)} (${roles[e.role]}): ${clean(e.meaning)}`,
  remark: (e) =>
    `${{ addendum: 'ein Nachtrag', correction: 'eine Berichtigung', remark: 'eine Bemerkung' }[e.kind ?? 'remark']} wurde geschrieben: ${clean(e.text)}`,
  struck: (e) => `Eintrag ${e.entry} wurde gestrichen: ${clean(e.reason)}`,
  'count-answered': (e) =>
    semicolons(
      `die Frage nach dem Metall wurde beantwortet von: ${and([...new Set(e.by)].map((role) => roles[role]))}`,
      e.discrepancy !== undefined && `Abweichung: ${clean(e.discrepancy)}`,
      e.decidedBy !== undefined && `entschieden von: ${clean(e.decidedBy)}`,
      e.image === undefined
        ? e.imageTaken === true
          ? 'ein Röntgenbild wurde gemacht, Befund nicht eingetragen'
          : image(e.imageTaken)
        : countImages[e.image],
    ),
  'work-ended': () => 'die Arbeit wurde beendet',
  'case-closed': () => 'der Fall wurde abgeschlossen',
  ...tellers2,
};

const roleOf = (role: Role) => (role === 'other' ? 'andere Person' : roles[role]);

export const attribution = ({ calledBy, loggedBy }: Entry): string =>
  some(calledBy && `angesagt: ${roleOf(calledBy)}`, loggedBy && `eingetragen: ${roleOf(loggedBy)}`).join(', ');

export { events, partMoves, partName, parts, stops } from './entries-2.ts';
