/** The record in German: whole on every walk, free of English, the same bytes everywhere. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { german } from '../content/german.ts';
import { workingStages } from '../../content/ids.ts';
import { translated } from '../../content/translation.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import {
  buildPatient,
  buildRecord,
  buildSurgeon,
  note,
  noteForms,
  pageMarkdown,
  pageText,
} from '../../src/record/index.ts';
import { at } from '../../src/record/locales/de/base.ts';
import { loadLocale, localeOf } from '../../src/record/locales/index.ts';
import { entriesOf, table, walks } from '../machines/walk.ts';
import { cases, content as english } from './cases.ts';
import { flat } from './helpers.ts';

await loadLocale('de');

const content = translated(english, german);
const root = resolve(import.meta.dirname, '../..');

const recordIn = (entries: readonly Entry[]) => {
  const folded = fold(entries, content);
  return buildRecord(entries, folded, view(folded, undefined, verify(entries)), content);
};

/** Each form as text in which nothing wraps; CSV and FHIR without their machine fields. */
function formsOf(entries: readonly Entry[]): Record<string, string> {
  const record = recordIn(entries);
  const patient = buildPatient(record, content);
  const surgeon = buildSurgeon(record, content);
  const strings = (value: unknown, key = ''): string[] =>
    typeof value === 'string'
      ? ['text', 'display', 'div', 'title', 'name'].includes(key)
        ? [key === 'div' ? value.replace(/<[^>]*>/g, '\n') : value]
        : []
      : typeof value === 'object' && value !== null
        ? Object.entries(value).flatMap(([name, child]) => strings(child, Number.isNaN(Number(name)) ? name : key))
        : [];
  return {
    text: flat(note('text', record, content)),
    markdown: note('markdown', record, content).replace(/^ +(?=- )/gm, ''),
    fhir: strings(JSON.parse(note('fhir', record, content))).join('\n'),
    'first page': flat(note('brief', record, content)),
    'first page, Markdown': pageMarkdown(record.first),
    patient: flat(pageText(patient)),
    'patient, Markdown': pageMarkdown(patient),
    'next surgeon': flat(pageText(surgeon)),
    'next surgeon, Markdown': pageMarkdown(surgeon),
    tools: flat(note('tools', record, content)),
  };
}

/** What a template leaves when it goes wrong. */
const gap =
  /undefined|\bnull\b|\bNaN\b|Infinity|\[object|\$?\{|\}|\(\s*\)|: ;|: \.|, ,|; ;|\S {2,}\S| [.,;:)]|\.\.|^\s*[.,;:]/m;
/** Common function words of English that are no German words. */
const englishWords =
  /\b(the|of|and|with|were|is|are|not|been|has|have|by|from|to|it|its|this|that|which|when|where|who|for|at|on|or|but|be|as|no|yes|if|than|then|there|into|after|before|out|left|still|none)\b/i;

const faultsIn = (forms: Record<string, string>, pattern: RegExp): string[] =>
  Object.entries(forms).flatMap(([form, text]) => {
    const found = pattern.exec(text);
    return found ? [`${form}: ${text.slice(Math.max(0, found.index - 60), found.index + 60)}`] : [];
  });

/** The same log with every text that somebody entered in one German-looking word, and the sources' own words apart. */
const wordless = (entries: readonly Entry[]): Entry[] => {
  const free = new Set([
    ...['label', 'planned', 'urgency', 'who', 'how', 'where', 'reason', 'decidedBy', 'toldTo', 'text', 'by', 'drug'],
    ...['dose', 'doseUnit', 'meaning', 'discrepancy', 'onWordOf', 'bone'],
  ]);
  return entries.map(
    (entry) =>
      Object.fromEntries(
        Object.entries(entry)
          .filter(([key]) => key !== 'seal')
          .map(([key, value]) => [key, free.has(key) && typeof value === 'string' ? 'Wort' : value]),
      ) as unknown as Entry,
  );
};
/** Citations stay as they are published. */
const uncited = (forms: Record<string, string>) => {
  const cites = content.sources.flatMap(({ cite }) => [cite, localeOf('de').cite(cite)]);
  const without = (text: string) =>
    [...new Set(cites)].sort((a, b) => b.length - a.length).reduce((rest, cite) => rest.replaceAll(cite, '…'), text);
  return Object.fromEntries(Object.entries(forms).map(([form, text]) => [form, without(text)]));
};

it.each(['the whole screw', 'Screw 3 is out', 'listed by nobody', 'no'])('takes "%s" for English', (text) =>
  expect(faultsIn({ text }, englishWords)).toHaveLength(1),
);

describe.each(Object.keys(cases))('the case %s in German', (name) => {
  const entries = cases[name] as Entry[];
  it('has no gap in any form', () => {
    expect(faultsIn(formsOf(entries), gap)).toEqual([]);
  });
  it('has no English but what somebody entered', () => {
    expect(faultsIn(uncited(formsOf(wordless(entries))), englishWords)).toEqual([]);
  });
  it('says what the English record says: the same sections, items, rows, states', () => {
    const shape = (record: ReturnType<typeof recordIn>) =>
      record.sections.map(({ id, blocks }) => [
        id,
        blocks.map((block) =>
          block.kind === 'item'
            ? [block.id, block.value.state, block.value.state === 'recorded' ? block.value.lines.length : 0]
            : block.kind === 'timeline'
              ? block.rows.map(({ n, time, marks, struck, late }) => [n, time, marks.length, struck, late])
              : block.kind === 'list'
                ? block.items.length
                : block.kind,
        ),
      ]);
    const folded = fold(entries, english);
    const inEnglish = buildRecord(entries, folded, view(folded, undefined, verify(entries)), english);
    expect(shape(recordIn(entries))).toEqual(shape(inEnglish));
  });
});

describe.each(workingStages)('walks from %s in German', (from) => {
  const all = walks.get(from) ?? [];
  const every = Math.ceil(all.length / 60);
  const walked = all.filter((_, index) => index % every === 0);
  const base = table(from).entries;
  it(`have no gap and no English in any form, one of ${every} (${walked.length} of ${all.length})`, () => {
    expect(walked.length).toBeGreaterThan(10);
    for (const walk of walked) {
      const entries = [...base, ...entriesOf(walk, base.length)];
      expect(faultsIn(formsOf(entries), gap)).toEqual([]);
      expect(faultsIn(uncited(formsOf(wordless(entries))), englishWords)).toEqual([]);
    }
  });
});

describe('numbers and dates in German', () => {
  const { num, mm, day, count } = localeOf('de');
  it.each([0, 1, 0.5, 3.5, 16.25, 1234.5, -2.75])('writes %d as Intl does', (value) =>
    expect(num(value)).toBe(
      new Intl.NumberFormat('de', { useGrouping: false, maximumSignificantDigits: 6 }).format(value),
    ),
  );
  it.each(['2026-02-07', '1999-12-31', '2028-02-29'])('writes the day %s as Intl does', (date) =>
    expect(day(date)).toBe(
      new Intl.DateTimeFormat('de', { day: '2-digit', month: '2-digit', year: 'numeric', timeZone: 'UTC' }).format(
        new Date(`${date}T00:00:00Z`),
      ),
    ),
  );
  it('counts one apart from several, and joins a time to its sentence', () => {
    expect([count(1, 'Kopf', 'Köpfe'), count(2, 'Kopf', 'Köpfe')]).toEqual(['1 Kopf', '2 Köpfe']);
    expect([at('10:15:00'), at('17.02.2026 10:15:00')]).toEqual(['um 10:15:00', 'am 17.02.2026 um 10:15:00']);
    expect(mm(3.5)).toBe('3,5 mm');
  });
});

describe('counterturn note --lang de', () => {
  const file = resolve(root, 'tests/golden/hard-plate.case.json');
  const run = (as: string, env: NodeJS.ProcessEnv = {}) =>
    execFileSync(process.execPath, ['--import', 'tsx', 'src/cli.ts', 'note', file, '--as', as, '--lang', 'de'], {
      cwd: root,
      encoding: 'utf8',
      env: { ...process.env, ...env },
    });
  const { entries } = JSON.parse(readFileSync(file, 'utf8')) as { entries: Entry[] };
  let expected: Record<string, string>;
  beforeAll(() => {
    const record = recordIn(entries);
    expected = Object.fromEntries(noteForms.map((form) => [form, note(form, record, content)]));
  });
  it.each([
    ['text', { TZ: 'Pacific/Auckland', LANG: 'ja_JP.UTF-8', LC_ALL: 'ja_JP.UTF-8' }],
    ['fhir', { TZ: 'America/St_Johns', LANG: 'C', LC_ALL: 'C' }],
  ] as const)('prints the same bytes as %s in another zone and language of the machine', (form, env) => {
    expect(run(form, env)).toBe(expected[form]);
  });
  it('leaves the codes, units and machine fields as they are in English', () => {
    const machine = (text: string) => {
      const found: string[] = [];
      JSON.parse(text, (key, value: unknown) => {
        if (
          ['code', 'system', 'status', 'value', 'unit', 'recorded', 'start', 'end'].includes(key) &&
          typeof value !== 'object'
        )
          found.push(`${key}=${String(value)}`);
        return value;
      });
      return found.filter((line) => !line.startsWith('value=content') && !line.startsWith('value=Inhalt'));
    };
    const folded = fold(entries, english);
    const record = buildRecord(entries, folded, view(folded, undefined, verify(entries)), english);
    expect(machine(expected.fhir ?? '')).toEqual(machine(note('fhir', record, english)));
    const columns = (csv: string) => csv.split('\r\n').map((row) => row.split(',').slice(0, 7).join());
    expect(columns(expected.csv ?? '')).toEqual(columns(note('csv', record, english)));
  });
});
