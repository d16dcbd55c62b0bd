/**
 * The operative note against published lists of what it must hold.
 * RCS England, Good Surgical Practice (2014), section on records: eighteen items (read in an audit's abstract).
 * Joint Commission RC.02.01.03 EP 6 and 7: surgeon and assistants, procedure and findings, blood loss, specimens,
 * diagnosis after operation.
 */
import { describe, expect, it } from 'vitest';
import { noteFields } from '../ids.ts';
import type { Entry } from '../../machines/entry.ts';
import { linesOf, note } from '../../src/record/index.ts';
import { cases, content, recordOf, written } from '../record/cases.ts';

const rcs2014: [string, string[]][] = [
  ['date and time', ['Date', 'Work started', 'Work ended']],
  ['elective or emergency', ['Elective or emergency']],
  ['operating surgeon and assistant', ['Operating surgeon', 'Assistant']],
  ['theatre anaesthetist', ['Theatre anaesthetist']],
  ['operative procedure carried out', ['Procedure carried out']],
  ['incision', ['Incision']],
  ['operative diagnosis', ['Operative diagnosis (before operation)']],
  ['operative findings', ['Operative findings']],
  ['problems and complications', ['Problems and complications']],
  ['extra procedure and why', ['Extra procedure and why']],
  ['tissue removed, added or altered', ['Tissue removed, added or altered']],
  ['prostheses and implants with serial numbers', ['Implants taken out and left, with serial numbers']],
  ['closure technique', ['Closure technique']],
  ['anticipated blood loss', ['Blood loss']],
  ['antibiotic prophylaxis', ['Antibiotic prophylaxis']],
  ['DVT prophylaxis', ['Thrombosis prophylaxis']],
  ['detailed post-operative instructions', ['Instructions after operation']],
  ['signature', ['Signed']],
];
const jointCommission: [string, string[]][] = [
  ['surgeons and assistants', ['Operating surgeon', 'Assistant']],
  ['procedure and description of each finding', ['Procedure carried out', 'Operative findings']],
  ['estimated blood loss', ['Blood loss']],
  ['specimens removed', ['Specimens']],
  ['post-operative diagnosis', ['Diagnosis after operation']],
];

/** Every item of the note by its label. */
const itemsOf = (entries: readonly Entry[]) =>
  new Map(
    recordOf(entries).sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'item' ? [[block.label, block.value] as const] : [])),
    ),
  );

const bare = (words: string) => words.replace(/\s+/g, '');

describe.each(Object.keys(cases))('the note of the case %s', (name) => {
  const entries = cases[name] as Entry[];
  const items = itemsOf(entries);
  const text = note('text', recordOf(entries), content);

  it.each([...rcs2014, ...jointCommission])('holds %s, as a value, "not applicable" or "not recorded"', (_, labels) => {
    for (const label of labels) {
      const value = items.get(label);
      expect(value, label).toBeDefined();
      const lines = value ? linesOf(value) : [];
      expect(lines.join('')).not.toBe('');
      expect(lines.join(' ')).not.toMatch(/^(none|nil|n\/a)?$/i);
      // Line breaks and broken words aside.
      expect(bare(text)).toContain(bare(`${label}:${lines.length === 1 ? '' : '-'}${lines[0]}`));
    }
  });
});

it('the college list has eighteen items', () => expect(rcs2014).toHaveLength(18));

it('every field that can be filled in is printed where it belongs', () => {
  const entries = written(
    noteFields.map((field) => ({ type: 'note-field' as const, field, text: `words for ${field}` })),
  );
  // Nothing counts before a case is opened.
  const opened = written([
    { type: 'case-opened', label: 'A', zone: 'UTC', side: 'left', bone: 'ulna', construct: 'screws', planned: 'x' },
    ...entries.map(({ n: _n, at: _at, logged: _logged, ...draft }) => draft as never),
  ]);
  const values = [...itemsOf(opened).values()].flatMap(linesOf);
  expect(noteFields.filter((field) => !values.includes(`words for ${field}`))).toEqual([]);
});
