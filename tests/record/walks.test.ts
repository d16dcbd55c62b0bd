/** The record of every walk of the screw's statechart: each form of the note and the page on what is still in, whole. */
import { describe, expect, it } from 'vitest';
import { workingStages } from '../../content/ids.ts';
import type { Entry } from '../../machines/entry.ts';
import {
  buildPatient,
  buildSurgeon,
  linesOf,
  note,
  pageMarkdown,
  pageText,
  type Page,
} from '../../src/record/index.ts';
import { entriesOf, table, walks } from '../machines/walk.ts';
import { content, recordOf } from './cases.ts';
import { flat } from './helpers.ts';

/** Of each stage at most so many walks, spread evenly over all of them: the same at every run. */
const share = 120;

/** What a template leaves when it goes wrong. JSON is looked into string by string. */
const gap =
  /undefined|\bnull\b|\bNaN\b|Infinity|\[object|\$?\{|\}|\(\s*\)|: ;|: \.|, ,|; ;|\S {2,}\S| [.,;:)]|\.\.|^\s*[.,;:]/m;

/** Every sentence of a page, one by one. */
const sentences = ({ title, sections }: Page): string[] => [
  title,
  ...sections.flatMap((section) => [
    section.title,
    ...section.blocks.flatMap((block) => {
      switch (block.kind) {
        case 'item':
          return [block.label, ...linesOf(block.value)];
        case 'list':
          return block.items;
        case 'timeline':
          return block.rows.flatMap(({ sentence, marks }) => [sentence, ...marks]);
        case 'picture':
          return [block.picture.alt];
        case 'table':
          return [...block.head, ...block.rows.flat()];
        default:
          return [block.text];
      }
    }),
  ]),
];

/** Every string in a JSON text; the markup of a narrative turned to blanks. */
function strings(value: unknown): string[] {
  if (typeof value === 'string') return [value.replace(/<[^>]*>/g, '\n')];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(strings) : [];
}

/** One form after another, each as texts in which no gap may stand. */
function formsOf(entries: readonly Entry[]): Record<string, string[]> {
  const record = recordOf(entries);
  const patient = buildPatient(record, content);
  const surgeon = buildSurgeon(record, content);
  return {
    sentences: [...sentences(record), ...sentences(record.first), ...sentences(patient), ...sentences(surgeon)],
    'first page': [flat(note('brief', record, content))],
    text: [flat(note('text', record, content))],
    markdown: [note('markdown', record, content).replace(/^ +(?=- )/gm, '')],
    csv: [note('csv', record, content)],
    fhir: strings(JSON.parse(note('fhir', record, content))),
    'patient, text': [flat(pageText(patient))],
    'patient, Markdown': [pageMarkdown(patient)],
    'next surgeon, text': [flat(pageText(surgeon))],
    'next surgeon, Markdown': [pageMarkdown(surgeon)],
    tools: [flat(note('tools', record, content)), note('tools-csv', record, content)],
  };
}

const gapsIn = (forms: Record<string, string[]>): string[] =>
  Object.entries(forms).flatMap(([form, texts]) =>
    texts.flatMap((text) => {
      const found = gap.exec(text);
      if (found) return [`${form}: ${text.slice(Math.max(0, found.index - 60), found.index + 60)}`];
      return text.trim() === '' ? [`${form}: empty`] : [];
    }),
  );

it.each([
  'undefined came out',
  'Screw 1 was {how}',
  'about NaN mm long',
  'by [object Object]',
  'null mm',
  'Screw  1 came out',
  'the driver , tight',
  'It came out..',
  'Bores: ; none',
  'bored ()',
  '. It came out',
  ' ',
])('finds the gap in "%s"', (text) => expect(gapsIn({ text: [text] })).toHaveLength(1));

describe.each(workingStages)('the record of a screw met %s', (from) => {
  const all = walks.get(from) ?? [];
  const every = Math.ceil(all.length / share);
  const walked = all.filter((_, index) => index % every === 0);
  const base = table(from).entries;

  it(`has no gap in any form, on one walk of ${every} (${walked.length} of ${all.length})`, () => {
    for (const walk of walked) {
      const entries = [...base, ...entriesOf(walk, base.length)];
      const forms = formsOf(entries);
      expect(gapsIn(forms)).toEqual([]);
      expect(forms.csv?.[0]?.trim().split('\r\n')).toHaveLength(entries.length + 1);
    }
  });
});
