/** What is still in, in German: piece by piece, and the page for the patient and the next surgeon. */
import type { Stage, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import { semicolons } from '../../../format/prose.ts';
import { mm, screw, tool } from './base.ts';

type Kind = 'left' | 'not-ended' | 'unaccounted' | 'put-in';

const whole: Record<Stage, string> = {
  seated: 'die ganze Schraube',
  'recess-stripped': 'die ganze Schraube, ihr Antrieb ist rund',
  'head-sheared': 'der Schaft; der Kopf ist ab',
  'fragment-retained': 'ein Bruchstück, das tief liegt',
  out: 'ein Stück',
  'left-in': 'ein Stück',
};

const lastKnown: Record<Stage, string> = {
  ...whole,
  seated: 'sie sitzt',
  'recess-stripped': 'sie steckt, ihr Antrieb ist rund',
};

const missing = (length: number) =>
  `${mm(Math.abs(length))} ${length < 0 ? 'mehr kamen heraus, als aufgeführt waren' : 'nicht nachgewiesen'}`;

type Origin = 'measured' | 'image' | 'account';
const longBy: Record<Origin, (length: number) => string> = {
  measured: (length) => `${mm(length)} lang`,
  image: (length) => `etwa ${mm(length)} lang (nach einer Aufnahme, nicht gemessen)`,
  account: (length) => `etwa ${mm(length)} lang (nach der Bilanz, nicht gemessen)`,
};
const across = (diameter: number | null) =>
  diameter === null ? 'Durchmesser nicht bekannt' : `${mm(diameter)} Durchmesser`;

export const facts = {
  toolPiece: (content: Content, id: ToolId | null): string =>
    id ? `ein abgebrochenes Stück Werkzeug (${tool(content, id)})` : 'ein abgebrochenes Stück Werkzeug',
  toolMetal:
    'Metall eines Werkzeugs, welches ist nicht eingetragen; Werkzeugstahl kann ferromagnetisch sein (aus dem Gedächtnis)',
  part: (name: string, some: boolean, end: 'left-in' | 'not-found' | 'put-in'): string =>
    ({
      'left-in': `${name}${some ? ', zum Teil' : ''}`,
      'not-found': `${name}: nicht gefunden`,
      'put-in': `${name}: heute eingebracht`,
    })[end],
  listedLong: (length: number): string => `${mm(length)} lang wie aufgeführt, nicht gemessen`,
  headIn: (id: string, part: string): string => `der Kopf von ${screw(id)}, steckt in: ${part}`,
  byAccount: (length: number): string => `etwa ${mm(length)} lang (nach dem Nachweis, nicht gemessen)`,
  notMeasured: 'nicht gemessen',
  long: (length: number, how: Origin): string => longBy[how](length),
  left: (id: string, stage: Stage): string => `${screw(id)}: ${whole[stage]}`,
  madeUp: (diameter: number | null): string =>
    `${across(diameter)}; die gemessenen Stücke ergeben die Länge, und niemand sagte, dass alles draußen ist`,
  byStop: (reason: string | null): string => `die Arbeit wurde abgebrochen${reason === null ? '' : `: ${reason}`}`,
  stays: (id: string, stage: Stage): string => `${screw(id)}: ${whole[stage]}`,
  asListed: (diameter: number | null, length: number | null): string =>
    `${across(diameter)}, ${length === null ? 'Länge nicht bekannt' : `${mm(length)} lang wie aufgeführt, nicht gemessen`}`,
  notEnded: (id: string, stage: Stage): string =>
    `${screw(id)}: ob sie draußen ist oder bleibt, wurde nicht gesagt; zuletzt bekannt: ${lastKnown[stage]}`,
  unbalanced: (id: string, open: number | null): string =>
    `${screw(id)}: ${open === null ? 'nicht alles wurde gemessen' : `die Längen gehen nicht auf, ${missing(open)}`}`,
  missingSize: (diameter: number | null, open: number): string => `${across(diameter)}, ${missing(open)}`,
  size: (diameter: number | null, length: number | null, how: Origin): string =>
    `${across(diameter)}, ${length === null ? 'Länge nicht bekannt' : longBy[how](length)}`,
  tip: (content: Content, id: ToolId): string =>
    `die Spitze eines Werkzeugs (${tool(content, id)}): abgebrochen und nicht nachgewiesen`,
  tipSize: (length: number | null): string => (length === null ? 'Länge nicht bekannt' : missing(length)),
  places: [
    'über der nahen Kortikalis',
    'in der nahen Wand',
    'im Markraum',
    'in der fernen Wand',
    'jenseits der fernen Kortikalis',
  ],
  place: (parts: string[], source: 'measured' | 'assumed' | 'film'): string =>
    `${parts.join(', ')} (Schätzung nur aus Längen, Knochen ${source === 'assumed' ? 'angenommen' : source === 'film' ? 'auf einem Film gemessen' : 'gemessen'})`,
};

const where = (side: string | null, bone: string, midline: boolean): string =>
  side === null
    ? 'im Knochen (welcher, ist nicht eingetragen)'
    : `im Knochen (${bone}), ${midline ? 'in der MITTE' : `Seite: ${side}`}`;

export const page = {
  title: (side: string | null, bone: string, draft: boolean): string =>
    `Was noch drin ist: ${side === null ? 'Seite nicht eingetragen' : `${bone} ${side}`}${draft ? ' (ENTWURF)' : ''}`,
  patient: 'Für den Patienten',
  where,
  toolPiece: (content: Content, id: ToolId, lost: boolean): string =>
    `Ein Stück von einem Werkzeug (${tool(content, id)})${lost ? ', das nicht gefunden wurde' : ''}`,
  partOf: (id: string, open: number | null): string =>
    `Teil von ${screw(id)}: ${open === null ? 'Nicht alles wurde gemessen' : 'Die Längen gehen nicht auf'}`,
  screwUnknown: (id: string): string => `Ob ${screw(id)} herauskam, wurde nicht eingetragen`,
  metalOf: (id: string): string => `Metall von ${screw(id)}`,
  why: (kind: Kind, why: string, decidedBy: string): string =>
    ({
      left: `Es blieb drin, Grund: ${why}. Entschieden von: ${decidedBy}`,
      'put-in': 'Es wurde bei dieser Operation eingebracht',
      'not-ended': 'Ob es noch drin ist, und warum, wurde nicht eingetragen',
      unaccounted:
        'Es kann noch im Körper sein, oder es ging mit den Tupfern oder dem Sauger weg: Das ist nicht bekannt',
    })[kind],
  madeOf: (text: string): string => `Material: ${text}`,
  place: (place: string, detail: string | null): string => `Ort: ${place}${detail === null ? '' : `; ${detail}`}`,
  tells: (place: string, known: boolean): string =>
    `Auf diesem Blatt steht, welches Metall noch in Ihnen ${known ? 'ist. Es liegt' : 'sein kann. Es wäre dann'} ${place}. Heben Sie das Blatt gut auf. Zeigen Sie es jedem Arzt, der Sie behandelt.`,
  noneIn: 'Nach diesem Bericht ist von den Schrauben auf der Liste kein Metall mehr drin.',
  noneListed: 'In diesem Bericht steht kein Metall. Was noch drin ist, wurde nicht eingetragen.',
  partUnknown: (name: string): string => `Was daraus wurde, ist nicht eingetragen: ${name}.`,
  noted: (told: string): string => `Was Ihnen gesagt wurde: ${told}`,
  scan: 'Vor einer Untersuchung im MRT',
  tellStaff: 'Sagen Sie vor jedem MRT, dass Sie dieses Metall haben. Geben Sie dort dieses Blatt ab.',
  untested: 'Hier hat niemand geprüft, was dieses Metall im MRT macht: MR-Status nicht beurteilt.',
  toolSteel:
    'Ein Stück von einem Werkzeug ist nicht gemacht wie ein Implantat. Der Magnet kann an solchem Stahl ziehen (aus dem Gedächtnis, nicht aus einer Quelle).',
  aftercare: 'Die Zeit danach',
  noAftercare: 'Für dieses Blatt wurde nichts zur Zeit danach angenommen.',
  surgeon: 'Für den nächsten Operateur',
  nothing: 'Nichts ist als noch drin eingetragen.',
  screwWas: (description: string): string => `Die Schraube war: ${description}`,
  bores: (bores: string, entered: boolean): string =>
    `Bohrungen neben ihrem eigenen Loch: ${bores}${entered ? '' : ' (wie vom Schritt zu erwarten, nicht gemessen)'}`,
  slips: (n: number): string => `${n}-mal im Antrieb abgerutscht`,
  tried: 'Was versucht wurde, der Reihe nach:',
  notTried: 'Was versucht wurde: Kein Schritt ist eingetragen.',
  notEnded: 'im Protokoll nicht beendet',
  brokenOff: 'abgebrochen',
  unknownEnd: 'wie es endete, wurde nicht eingetragen',
  next: (stage: string): string => `Schritte für diesen Stand (${stage}) und was sie brauchen:`,
  matchedDriver: 'passender Schraubendreher',
  otherDriver: 'größerer oder anderer Schraubendreher',
  about: 'Über dieses Blatt',
  aboutLine: (label: string, date: string | null, status: string, seal: string | null): string =>
    semicolons(
      `Fall: ${label}`,
      date === null ? 'Datum der Operation nicht eingetragen' : `operiert am ${date}`,
      status,
      seal !== null && `letztes Siegel ${seal}`,
    ),
  statuses: { draft: 'ENTWURF, nicht unterschrieben', signed: 'unterschrieben', amended: 'ergänzt' },
  end: (version: string): string =>
    `Auf diesem Blatt steht, was im OP notiert wurde. Es gibt keinen Rat. Kein zertifiziertes Medizinprodukt. Inhalt, Fassung ${version}.`,
};
