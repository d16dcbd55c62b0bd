/** Text as the record writes it, whatever its language: the same on every machine. */

/**
 * Text that somebody entered, on one line: white space and control characters as single spaces, marks that turn the
 * direction of writing dropped, since they can make a note read other than it is.
 *
 * @param blank what stands for text in which nothing is left
 * @example clean(' two\n lines ') // 'two lines'
 */
export function clean(text: string, blank = '(blank)'): string {
  const line = text
    .replace(/[\u200E\u200F\u202A-\u202E\u2066-\u2069\uFEFF\uFFFE\uFFFF]/g, '')
    .replace(/[\p{Cc}\p{Z}]+/gu, ' ')
    .trim();
  return line || blank;
}

/** A number without needless digits. `plain(0.1 + 0.2)` is `'0.3'`. */
export const plain = (value: number): string => String(Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(6)));

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

/** `series(['a', 'b', 'c'], 'and')` is `'a, b and c'`. */
export const series = (items: readonly string[], last: string): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;

/** Each once, in the order they first came, with how often. `tally(['a', 'b', 'a'], often)` is `['a (twice)', 'b']`. */
export function tally(items: readonly string[], often: (times: number) => string): string[] {
  const times = new Map<string, number>();
  for (const item of items) times.set(item, (times.get(item) ?? 0) + 1);
  return [...times].map(([item, n]) => (n === 1 ? item : `${item} (${often(n)})`));
}

/** Only what is there. */
export const some = (...parts: (string | false | null | undefined)[]): string[] =>
  parts.filter((part): part is string => typeof part === 'string' && part !== '');

/** Parts of one sentence, only what is there. */
export const semicolons = (...parts: Parameters<typeof some>): string => some(...parts).join('; ');

export const capital = (line: string): string => line.charAt(0).toUpperCase() + line.slice(1);

/** With a capital first and a full stop last. `sentence('screw 3 came out')` is `'Screw 3 came out.'` */
export function sentence(text: string): string {
  const [first = '', ...rest] = [...text];
  const whole = first.toUpperCase() + rest.join('');
  return /[.!?…]["')]?$/.test(whole) ? whole : `${whole}.`;
}

/** A sentence without its full stop, as it stands over others. */
export const heading = (text: string): string => sentence(text).slice(0, -1);

/**
 * Ids in their order, runs of three whole numbers or more as a span.
 *
 * @example ranges(['8', '1', '2', '6', '7', 'x']) // ['1', '2', '6–8', 'x']
 */
export function ranges(ids: readonly string[]): string[] {
  const numbers = ids
    .filter((id) => /^[1-9]\d{0,4}$/.test(id))
    .map(Number)
    .sort((a, b) => a - b);
  const runs: number[][] = [];
  for (const n of numbers) {
    const run = runs.at(-1);
    if (run && n === (run.at(-1) as number) + 1) run.push(n);
    else runs.push([n]);
  }
  const told = runs.flatMap((run) => (run.length > 2 ? [`${run[0]}–${run.at(-1)}`] : run.map(String)));
  return [...told, ...ids.filter((id) => !/^[1-9]\d{0,4}$/.test(id))];
}
