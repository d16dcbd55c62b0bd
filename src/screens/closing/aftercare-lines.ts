/** The lines for the time after, as the closing shows them. */
import type { Aftercare } from '../../../content/types.ts';
import { lastWords, offeredLines, type AftercareWord } from '../../../machines/aftercare.ts';
import type { Folded } from '../../../machines/folded.ts';
import { effectiveEntries } from '../../../machines/trace.ts';

const wordsOn = ({ trace, content }: Folded): AftercareWord[] =>
  lastWords(
    effectiveEntries(trace).filter((entry) => entry.type === 'aftercare'),
    content,
  );

const offeredTo = ({ content, case: { context } }: Folded): Aftercare[] =>
  context.room.opened ? offeredLines(content, context.room.opened) : [];

/** A line with its source, and the last word on it; null while nobody has said. */
export interface AftercareRow {
  line: string | null;
  text: string;
  source: string | null;
  state: AftercareWord['state'] | null;
}

/** What is offered first, then what was said besides: own words, and lines that are offered no more. */
export function aftercareRows(folded: Folded): AftercareRow[] {
  const said = wordsOn(folded);
  const offered = offeredTo(folded);
  const rows = offered.map(({ id, text, source }): AftercareRow => {
    const word = said.find(({ line }) => line === id);
    return { line: id, text: word?.text ?? text, source, state: word?.state ?? null };
  });
  const more = said.filter(({ line }) => line === null || !offered.some(({ id }) => id === line));
  return [...rows, ...more.map(({ line, text, state }) => ({ line, text: text ?? line ?? '', source: null, state }))];
}
