/** What is still in, in German: piece by piece, and the page for the patient and the next surgeon. */
import type { Stage, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import { semicolons } from '../../../format/prose.ts';
import { mm, screw, tool } from './base.ts';

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

export const page = {
  /** `unsure`: of some metal nobody knows whether it is in or out. */
  title: (side: string | null, bone: string, draft: boolean, unsure: boolean): string =>
    `Was noch drin ist${unsure ? ' oder sein kann' : ''}: ${side === null ? 'Seite nicht eingetragen' : `${bone} ${side}`}${draft ? ' (ENTWURF)' : ''}`,
  tellStaff: 'Sagen Sie vor jedem MRT, dass Sie dieses Metall haben. Geben Sie dort dieses Blatt ab.',
  untested: 'Hier hat niemand geprüft, was dieses Metall im MRT macht: MR-Status nicht beurteilt.',
  toolSteel:
    'Ein Stück von einem Werkzeug ist nicht gemacht wie ein Implantat. Der Magnet kann an solchem Stahl ziehen (aus dem Gedächtnis, nicht aus einer Quelle).',
  screwWas: (description: string): string => `Die Schraube war: ${description}`,
  bores: (bores: string, entered: boolean): string =>
    `Bohrungen neben ihrem eigenen Loch: ${bores}${entered ? '' : ' (wie vom Schritt zu erwarten, nicht gemessen)'}`,
  slips: (n: number): string => `${n}-mal im Antrieb abgerutscht`,
  notEnded: 'im Protokoll nicht beendet',
  brokenOff: 'abgebrochen',
  unknownEnd: 'wie es endete, wurde nicht eingetragen',
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
