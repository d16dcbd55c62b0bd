/** Words and numbers as the record writes them: the same on every machine. */
import type { Role, ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { Bore } from '../../machines/entry.ts';

/**
 * Text that somebody entered, on one line: white space and control characters as single spaces, marks that turn the
 * direction of writing dropped, since they can make a note read other than it is.
 *
 * @example clean(' two\n lines ') // 'two lines'
 */
export function clean(text: string): string {
  const line = text
    .replace(/[\u200E\u200F\u202A-\u202E\u2066-\u2069\uFEFF\uFFFE\uFFFF]/g, '')
    .replace(/[\p{Cc}\p{Z}]+/gu, ' ')
    .trim();
  return line || '(blank)';
}

/** A number without needless digits. `num(0.1 + 0.2)` is `'0.3'`. */
export const num = (value: number): string => String(Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(6)));
/** A length to a hundredth. `mm(16.004)` is `'16 mm'`. */
export const mm = (length: number): string => `${num(Number(length.toFixed(2)))} mm`;
/** A share as whole per cent. `percent(0.1312)` is `'13 %'`. */
export const percent = (share: number): string => `${Math.round(share * 100)} %`;
export const minutes = (value: number): string => (value < 0.5 ? 'under 1 min' : `${Math.round(value)} min`);

/** Seconds as hours, minutes and seconds. `span(125)` is `'2 min 5 s'`. */
export function span(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  const parts = [
    [Math.floor(whole / 3600), 'h'],
    [Math.floor(whole / 60) % 60, 'min'],
    [whole % 60, 's'],
  ] as const;
  return (
    parts
      .filter(([amount]) => amount > 0)
      .map(([amount, unit]) => `${amount} ${unit}`)
      .join(' ') || '0 s'
  );
}

/** `count(1, 'screw')` is `'1 screw'`, `count(2, 'screw')` is `'2 screws'`. */
export const count = (amount: number, one: string, many = `${one}s`): string =>
  `${amount} ${amount === 1 ? one : many}`;

/** `list(['a', 'b', 'c'])` is `'a, b and c'`. */
export const list = (items: readonly string[], last = 'and'): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;

/** Each once, in the order they first came, with how often. `tally(['a', 'b', 'a'])` is `['a (twice)', 'b']`. */
export function tally(items: readonly string[]): string[] {
  const times = new Map<string, number>();
  for (const item of items) times.set(item, (times.get(item) ?? 0) + 1);
  return [...times].map(([item, n]) => (n === 1 ? item : `${item} (${n === 2 ? 'twice' : `${n} times`})`));
}

/** Only what is there. */
export const some = (...parts: (string | false | null | undefined)[]): string[] =>
  parts.filter((part): part is string => typeof part === 'string' && part !== '');

/** With a capital first and a full stop last. `sentence('screw 3 came out')` is `'Screw 3 came out.'` */
export function sentence(text: string): string {
  const [first = '', ...rest] = [...text];
  const whole = first.toUpperCase() + rest.join('');
  return /[.!?…]["')]?$/.test(whole) ? whole : `${whole}.`;
}

export const yesNo = (value: boolean | undefined): string =>
  value === undefined ? 'not recorded' : value ? 'yes' : 'no';

export const said = (text: string | undefined): string => (text === undefined ? 'not recorded' : clean(text));

export const roleWord: Record<Role, string> = {
  surgeon: 'surgeon',
  assistant: 'assistant',
  anaesthetist: 'anaesthetist',
  scrub: 'scrub nurse',
  circulating: 'circulating nurse',
  other: 'other',
};

export const constructWord = { plate: 'plate', nail: 'nail with locking bolts', screws: 'loose screws' } as const;
export const answerWord = {
  'go-on': 'go on',
  stop: 'stop',
  called: 'called',
  'not-available': 'not available',
  confirmed: 'confirmed',
  'let-down': 'let down',
} as const;
export const pointWord = {
  material: 'material',
  size: 'size',
  place: 'place',
  risks: 'risks',
  mri: 'MRI',
} as const;

/** A side as the word that stands on every page. */
export const sideWord = (side: 'left' | 'right' | 'midline'): string => side.toUpperCase();

export const toolLabel = (content: Content, tool: ToolId): string => content.phrases.tools[tool].label;

const wallWord = { near: 'near wall', far: 'far wall', both: 'both walls' } as const;

/** `bore({ wall: 'near', diameter: 8 })` is `'near wall 8 mm'`. */
export const bore = ({ wall, diameter, length, turn }: Bore): string =>
  some(
    `${wallWord[wall]} ${mm(diameter)}`,
    length !== undefined && `${num(length)} mm long`,
    turn !== undefined && turn !== 0 && `turned ${num(turn)} degrees`,
  ).join(', ');
