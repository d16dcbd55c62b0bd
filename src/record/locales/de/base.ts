/** Numbers, lists and single words in German. */
import type { Answer, materials as allMaterials, Role, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { Bore } from '../../../../machines/entry.ts';
import { clean as cleaned, plain, series, some, tally as tallied } from '../../../format/prose.ts';

export const language: string = 'de';
export const notRecorded: string = 'nicht eingetragen';
/** Of what format 1 had a constant for. */
export const notAsked: string = 'nicht eingetragen (Version 1, nicht gefragt)';
export const notApplicable: string = 'trifft nicht zu';

export const clean = (text: string): string => cleaned(text, '(leer)');
export const num = (value: number): string => plain(value).replace('.', ',');
export const mm = (length: number): string => `${num(Number(length.toFixed(2)))} mm`;
export const percent = (share: number): string => `${Math.round(share * 100)} %`;
export const minutes = (value: number): string => (value < 0.5 ? 'unter 1 min' : `${Math.round(value)} min`);
export const lasted = (value: number, isKnown: boolean): string =>
  isKnown ? minutes(value) : `${minutes(value)} ± nicht bekannt`;
/** `day('2026-02-17')` is `'17.02.2026'`. */
export const day = (date: string): string => date.replace(/^(-?\d+)-(\d\d)-(\d\d)$/, '$3.$2.$1');

export const count = (amount: number, one: string, many = one): string => `${num(amount)} ${amount === 1 ? one : many}`;
export const and = (items: readonly string[]): string => series(items, 'und');
export const or = (items: readonly string[]): string => series(items, 'oder');
export const tally = (items: readonly string[]): string[] =>
  tallied(items, (times) => (times === 2 ? 'zweimal' : `${times}-mal`));

export const yesNo = (value: boolean | undefined): string =>
  value === undefined ? notRecorded : value ? 'ja' : 'nein';
export const said = (text: string | undefined): string => (text === undefined ? notRecorded : clean(text));
export const quoted = (text: string): string => `„${text}“`;

export const roles: Record<Role, string> = {
  surgeon: 'Operateur',
  assistant: 'Assistenz',
  anaesthetist: 'Anästhesie',
  scrub: 'instrumentierende Pflege',
  circulating: 'Springer',
  other: 'andere',
};
export const constructs: Record<'plate' | 'nail' | 'screws', string> = {
  plate: 'Platte',
  nail: 'Nagel mit Verriegelungsbolzen',
  screws: 'einzelne Schrauben',
};
export const answers: Record<Answer, string> = {
  'go-on': 'weiter',
  stop: 'aufhören',
  called: 'gerufen',
  'not-available': 'nicht erreichbar',
  confirmed: 'bestätigt',
  'let-down': 'geöffnet',
  scrubbed: 'steril am Tisch',
  found: 'gefunden',
  'not-found': 'nicht gefunden',
  later: 'später',
  heeded: 'befolgt',
  yes: 'ja',
  no: 'nein',
};
export const points: Record<'material' | 'size' | 'place' | 'risks' | 'mri', string> = {
  material: 'Material',
  size: 'Größe',
  place: 'Ort',
  risks: 'Risiken',
  mri: 'MRT',
};
export const sides: Record<'left' | 'right' | 'midline', string> = { left: 'LINKS', right: 'RECHTS', midline: 'MITTE' };
export const materials: Record<(typeof allMaterials)[number], string> = {
  steel: 'Stahl',
  titanium: 'Titan',
  'cobalt-chromium': 'Kobalt-Chrom',
  unknown: 'nicht bekannt (als unbekannt eingetragen)',
};

export const screw = (id: string): string => `Schraube ${clean(id)}`;
export const tool = (content: Content, id: ToolId): string => content.phrases.tools[id].label;

const walls = { near: 'nahe Wand', far: 'ferne Wand', both: 'beide Wände' } as const;
export const bore = ({ wall, diameter, length, turn }: Bore): string =>
  some(
    `${walls[wall]} ${mm(diameter)}`,
    length !== undefined && `${num(length)} mm lang`,
    turn !== undefined && turn !== 0 && `um ${num(turn)} Grad gedreht`,
  ).join(', ');

/** A time of the day, or a day and its time, as a sentence goes on with it. `at('10:15:00')` is `'um 10:15:00'`. */
export const at = (time: string): string => (time.includes(' ') ? `am ${time.replace(' ', ' um ')}` : `um ${time}`);

/** The status of a figure, where a citation states it in words. */
export const cite = (text: string): string =>
  text
    .replace(/^common practice, no source(; a setting of this tool)?/, (_, own?: string) =>
      own ? 'übliche Praxis, ohne Quelle; eine Einstellung dieses Werkzeugs' : 'übliche Praxis, ohne Quelle',
    )
    .replace(/^from memory/, 'aus dem Gedächtnis');
