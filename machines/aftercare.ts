/** Lines for the time after an operation: which are offered, and what was last said of each. */
import type { Aftercare, Content } from '../content/types.ts';
import type { EntryOf } from './entry.ts';

type Opened = Pick<EntryOf<'case-opened'>, 'bone' | 'construct' | 'patient'>;

/**
 * The lines of a content that a case is offered: those for any bone and those for its own, of its kind of metal. What is
 * for children alone is kept from an adult; where nobody said, it is offered.
 *
 * @example offeredLines(content, { bone: 'tibia', construct: 'plate' }).map(({ id }) => id)
 * // ['load-reduced', 'new-pain', 'end-of-metal', 'tibia-unknown']
 */
export function offeredLines(content: Content, { bone, construct, patient }: Opened): Aftercare[] {
  const name = bone.trim().toLowerCase();
  return content.aftercare.filter(
    (line) =>
      (line.bone === null || line.bone === name) &&
      (line.construct === undefined || line.construct === construct) &&
      (line.patient !== 'child' || patient !== 'adult'),
  );
}

/** The last word on one line. */
export interface AftercareWord {
  /** Id in the content; null for a line in the surgeon's own words. */
  line: string | null;
  /** What it says now; null for a line that this content does not have. */
  text: string | null;
  state: EntryOf<'aftercare'>['state'];
}

/**
 * The last word on every line that somebody spoke of, in the order in which they were first spoken of. A line in own
 * words is known by what it says.
 *
 * @param entries in force, in order of `n`
 * @example lastWords([{ line: 'new-pain', state: 'accepted', … }], content)[0].state // 'accepted'
 */
export function lastWords(entries: readonly EntryOf<'aftercare'>[], content: Content): AftercareWord[] {
  const said = new Map<string, AftercareWord>();
  for (const { line, text, state } of entries) {
    const key = line === undefined ? `text ${text}` : `line ${line}`;
    const listed = content.aftercare.find(({ id }) => id === line)?.text ?? null;
    said.set(key, { line: line ?? null, text: text ?? listed, state });
  }
  return [...said.values()];
}
