/** Numbers, lists and single words in English. */
import type { Answer, materials as allMaterials, Role, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { Bore } from '../../../../machines/entry.ts';
import { clean as cleaned, plain, series, some, tally as tallied } from '../../../format/prose.ts';

export const language: string = 'en';
export const notRecorded: string = 'not recorded';
/** Of what format 1 had a constant for. */
export const notAsked: string = 'not recorded (version 1, not asked)';
export const notApplicable: string = 'not applicable';

export const clean = (text: string): string => cleaned(text, '(blank)');
export const num = plain;
/** A length to a hundredth. `mm(16.004)` is `'16 mm'`. */
export const mm = (length: number): string => `${num(Number(length.toFixed(2)))} mm`;
/** A share as whole per cent. `percent(0.1312)` is `'13 %'`. */
export const percent = (share: number): string => `${Math.round(share * 100)} %`;
export const minutes = (value: number): string => (value < 0.5 ? 'under 1 min' : `${Math.round(value)} min`);
/** Minutes that something lasted; not `isKnown` when a gap of unknown length lies in it. `lasted(40, false)` is `'40 min ± not known'`. */
export const lasted = (value: number, isKnown: boolean): string =>
  isKnown ? minutes(value) : `${minutes(value)} ± not known`;
/** A day, ISO 8601, as it is read. */
export const day = (date: string): string => date;

/** `count(1, 'screw')` is `'1 screw'`, `count(2, 'screw')` is `'2 screws'`. */
export const count = (amount: number, one: string, many = `${one}s`): string =>
  `${amount} ${amount === 1 ? one : many}`;
export const and = (items: readonly string[]): string => series(items, 'and');
export const or = (items: readonly string[]): string => series(items, 'or');
export const tally = (items: readonly string[]): string[] =>
  tallied(items, (times) => (times === 2 ? 'twice' : `${times} times`));

export const yesNo = (value: boolean | undefined): string => (value === undefined ? notRecorded : value ? 'yes' : 'no');
export const said = (text: string | undefined): string => (text === undefined ? notRecorded : clean(text));
export const quoted = (text: string): string => `"${text}"`;

export const roles: Record<Role, string> = {
  surgeon: 'surgeon',
  assistant: 'assistant',
  anaesthetist: 'anaesthetist',
  scrub: 'scrub nurse',
  circulating: 'circulating nurse',
  other: 'other',
};
export const constructs: Record<'plate' | 'nail' | 'screws', string> = {
  plate: 'plate',
  nail: 'nail with locking bolts',
  screws: 'loose screws',
};
export const answers: Record<Answer, string> = {
  'go-on': 'go on',
  stop: 'stop',
  called: 'called',
  'not-available': 'not available',
  confirmed: 'confirmed',
  'let-down': 'let down',
  scrubbed: 'scrubbed',
  found: 'found',
  'not-found': 'not found',
  later: 'later',
  heeded: 'heeded',
  yes: 'yes',
  no: 'no',
};
export const points: Record<'material' | 'size' | 'place' | 'risks' | 'mri', string> = {
  material: 'material',
  size: 'size',
  place: 'place',
  risks: 'risks',
  mri: 'MRI',
};
/** A side as the word that stands on every page. */
export const sides: Record<'left' | 'right' | 'midline', string> = { left: 'LEFT', right: 'RIGHT', midline: 'MIDLINE' };
export const materials: Record<(typeof allMaterials)[number], string> = {
  steel: 'steel',
  titanium: 'titanium',
  'cobalt-chromium': 'cobalt-chromium',
  unknown: 'not known (entered as unknown)',
};

/** `screw('3')` is `'screw 3'`. */
export const screw = (id: string): string => `screw ${clean(id)}`;
export const tool = (content: Content, id: ToolId): string => content.phrases.tools[id].label;

const walls = { near: 'near wall', far: 'far wall', both: 'both walls' } as const;
/** `bore({ wall: 'near', diameter: 8 })` is `'near wall 8 mm'`. */
export const bore = ({ wall, diameter, length, turn }: Bore): string =>
  some(
    `${walls[wall]} ${mm(diameter)}`,
    length !== undefined && `${num(length)} mm long`,
    turn !== undefined && turn !== 0 && `turned ${num(turn)} degrees`,
  ).join(', ');

/** The status of a figure, where a citation states it in words. */
export const cite = (text: string): string => text;
