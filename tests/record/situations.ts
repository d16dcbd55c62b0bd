/** Situations of an operation, told as the tablet would write them, and what their papers say. Invented throughout. */
import { loadContent } from '../../content/catalog.ts';
import { loadLanguage } from '../../content/languages.ts';
import { fetchReleases } from '../../content/later.ts';
import { translated } from '../../content/translation.ts';
import type { Content } from '../../content/types.ts';
import { readCase } from '../../machines/case-file.ts';
import type { EntryDraft, Entry, EntryOf } from '../../machines/entry.ts';
import { fold, step, unfolded } from '../../machines/fold.ts';
import { formatOfLog } from '../../machines/formats.ts';
import { sealAll, verify } from '../../machines/seal.ts';
import { epoch, timeIn } from '../../machines/time.ts';
import { view } from '../../machines/view.ts';
import type { CaseView } from '../../machines/view.types.ts';
import {
  buildPatient,
  buildRecord,
  buildSurgeon,
  linesOf,
  note,
  type CaseRecord,
  type Page,
} from '../../src/record/index.ts';
import { differs } from '../../src/record/reckoned.ts';
import { loadLocale } from '../../src/record/locales/index.ts';
import { german } from '../content/german.ts';
import { toolIds } from '../ids.ts';
import { content } from './cases.ts';
import { flat } from './helpers.ts';

await Promise.all([loadLocale('de'), loadLanguage('de'), fetchReleases(['2026.2-draft'])]);

const contents = { en: content, de: translated(content, german) };
export type Language = keyof typeof contents;

/** What the case was opened with, in the language of the papers. */
function contentOf(entries: readonly Entry[], language: Language): Content {
  const opening = entries.find(({ type }) => type === 'case-opened');
  const version = opening?.type === 'case-opened' ? opening.contentVersion : undefined;
  return version === undefined || version === content.version
    ? contents[language]
    : (loadContent(version, language) as Content);
}

type More<T extends Entry['type']> = Partial<Omit<EntryOf<T>, 'n' | 'at' | 'logged' | 'seal' | 'type'>>;

/** An instant of the day of the operation; `1+09:15` is the day after. */
const ms = (time: string): number => {
  const [day, clock] = time.includes('+') ? (time.split('+') as [string, string]) : ['0', time];
  return epoch(`2026-03-0${4 + Number(day)}T${clock}:00+01:00`);
};
const written = (time: string): string => timeIn('Europe/Oslo', ms(time));

/** A case told entry by entry: each with the time at which it was entered, and the time it is about where that is another. */
export class Story {
  readonly entries: Entry[] = [];

  tell(entered: string, draft: EntryDraft, about = entered): this {
    const entry = { n: this.entries.length + 1, at: written(about), logged: written(entered), ...draft };
    this.entries.push(entry);
    return this;
  }

  /** Opened in format 2, with two people and the bone measured. */
  opened(entered = '10:00', more: More<'case-opened'> = {}): this {
    const place = { label: 'Room 3, first case', zone: 'Europe/Oslo', side: 'left', bone: 'tibia' } as const;
    const newest = { rules: 2, contentVersion: '2026.1' };
    return this.tell(entered, {
      ...({ type: 'case-opened', ...place, construct: 'plate', planned: 'Plate and screws out' } as const),
      ...newest,
      ...more,
    })
      .tell(entered, { type: 'person-listed', role: 'surgeon', who: 'R. Invented' })
      .tell(entered, { type: 'person-listed', role: 'scrub', who: 'S. Madeup' })
      .tell(entered, { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' });
  }

  /** Every tool in the room that turns, grips, drills, reams or cuts. */
  room(entered: string): this {
    for (const tool of toolIds) this.tell(entered, { type: 'tool-in-room', tool, present: true });
    return this;
  }

  /** Opened, one screw "1" listed, every tool in the room, and the work begun at 10:05. */
  atWork(more: More<'screw-listed'> = {}): this {
    return this.opened().screw('10:01', '1', more).room('10:02').tell('10:05', { type: 'work-started' });
  }

  /** A screw of 4.5 mm and 36 mm, as most plates have them. */
  screw(entered: string, screw: string, more: More<'screw-listed'> = {}): this {
    return this.tell(entered, {
      ...({ type: 'screw-listed', screw, diameter: 4.5, thread: 'cortical', locking: false } as const),
      ...({ drive: 'hexagonal', driveSize: 3.5, material: 'steel', length: 36, cortices: 2 } as const),
      ...more,
    });
  }

  begins(entered: string, screw: string, move: EntryOf<'move-started'>['move'], about = entered): this {
    return this.tell(entered, { type: 'move-started', screw, move }, about);
  }

  ends(
    entered: string,
    screw: string,
    outcome: EntryOf<'move-ended'>['outcome'],
    more: More<'move-ended'> = {},
    about = entered,
  ): this {
    return this.tell(entered, { type: 'move-ended', screw, outcome, ...more }, about);
  }

  /** The number of the last entry. */
  get n(): number {
    return this.entries.length;
  }
}

/** What every paper says, sentence by sentence. */
export interface Papers {
  /** The log as it was printed, with its seals. */
  sealed: readonly Entry[];
  record: CaseRecord;
  state: CaseView;
  /** What newer rules reckon otherwise of what was signed. */
  differs: string[];
  text: string;
  brief: string;
  patient: string;
  stillIn: string;
  /** Every sentence of the record and of the pages for the patient and the next surgeon. */
  sentences: string[];
  /** The sentences of one section of the record. */
  section: (id: string) => string[];
  /** The value of an item. */
  value: (section: string, id: string) => string;
  /** The rows of the timeline: time, number, marks and sentence. */
  rows: { n: number; time: string; marks: string[]; sentence: string }[];
}

const blockSentences = (page: Pick<Page, 'sections'>): string[] =>
  page.sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => {
      if (block.kind === 'item') return linesOf(block.value).map((line) => `${block.label}: ${line}`);
      if (block.kind === 'list') return block.items;
      if (block.kind === 'timeline')
        return block.rows.map(({ time, marks, sentence }) =>
          [time, ...marks.map((mark) => `[${mark}]`), sentence].join(' '),
        );
      if (block.kind === 'picture') return [block.picture.alt];
      if (block.kind === 'table')
        return block.rows.map(
          ([name, ...cells]) => `${name}: ${cells.map((cell, i) => `${block.head[i + 1]}: ${cell}`).join('; ')}`,
        );
      return [block.text];
    }),
  );

/**
 * Folds a log and prints it, sealed. The log has to be a case file, and to read entry by entry as it reads all at once.
 *
 * @throws Error with the faults of a log that is no case file
 */
export function papersOf(log: readonly Entry[], language: Language = 'en'): Papers {
  const entries = sealAll(log);
  const spoken = contentOf(entries, language);
  const format = formatOfLog(entries);
  const file = { format: 'counterturn-case', formatVersion: format, contentVersion: spoken.version, entries };
  const read = readCase(JSON.parse(JSON.stringify(file)), loadContent);
  if ('faults' in read) throw new Error(read.faults.map(({ path, message }) => `${path}: ${message}`).join('\n'));
  const folded = fold(entries, spoken);
  const lived = entries.reduce((state, entry, i) => step(state, entry, entries.slice(0, i)), unfolded(spoken));
  const recordBy = (state: typeof folded) =>
    buildRecord(entries, state, view(state, undefined, verify(entries)), spoken);
  const record = recordBy(folded);
  const text = note('text', record, spoken);
  if (note('text', recordBy(lived), spoken) !== text) throw new Error('entry by entry it reads otherwise');
  const section = (id: string) => record.sections.filter((one) => one.id === id);
  return {
    sealed: entries,
    record,
    state: view(folded, undefined, verify(entries)),
    differs: differs(folded, entries, spoken),
    text: flat(text),
    brief: flat(note('brief', record, spoken)),
    patient: flat(note('patient', record, spoken)),
    stillIn: flat(note('still-in', record, spoken)),
    sentences: [
      ...blockSentences(record),
      ...blockSentences(record.first),
      ...blockSentences(buildPatient(record, spoken)),
      ...blockSentences(buildSurgeon(record, spoken)),
    ],
    section: (id) => blockSentences({ sections: section(id) }),
    value: (id, item) => {
      const block = section(id)[0]?.blocks.find((one) => one.kind === 'item' && one.id === item);
      return block?.kind === 'item' ? linesOf(block.value).join('; ') : 'no such item';
    },
    rows: section('timeline').flatMap(({ blocks }) =>
      blocks.flatMap((block) =>
        block.kind === 'timeline'
          ? block.rows.map(({ n, time, marks, sentence }) => ({ n, time, marks, sentence }))
          : [],
      ),
    ),
  };
}

/** Fields of an entry that are lengths in mm. */
const lengthFields = ['length', 'recovered', 'diameter', 'driveSize', 'outer', 'cortex', 'size', 'inner', 'depth'];

/** Every length in an entry, at whatever depth. */
const lengthsIn = (value: unknown, key = ''): number[] =>
  typeof value === 'number'
    ? lengthFields.includes(key)
      ? [value]
      : []
    : typeof value === 'object' && value !== null
      ? Object.entries(value).flatMap(([name, child]) => lengthsIn(child, Array.isArray(value) ? key : name))
      : [];

/** The roles that somebody was named in: by format 1 only people listed, counting and signing, for the rest were constants. */
function rolesIn(log: readonly Entry[]): Set<string> {
  const begun = log.findIndex((_, i) => formatOfLog(log.slice(0, i + 1)) > 1);
  return new Set(
    log.flatMap((entry, i): string[] => {
      const said = begun >= 0 && i >= begun ? [entry.calledBy, entry.loggedBy] : [];
      const own = 'role' in entry ? [entry.role] : entry.type === 'count-answered' ? entry.by : [];
      return [...said, ...own].filter((role) => role !== undefined);
    }),
  );
}

const roleWords = {
  surgeon: /(?<!second |next |operating )surgeon/i,
  assistant: /assistant/i,
  anaesthetist: /anaesthetist/i,
  scrub: /scrub nurse/i,
  circulating: /circulating nurse/i,
} as const;

/** What is reckoned of the bone, and what stands there as a rule or a setting. */
const reckoned =
  /^Tolerance|^Toleranz|as expected of the move|wie (?:vom Schritt|von den Schritten) zu erwarten|Limits in force|Grenzen/;

/**
 * Sentences that say what no entry said: a length or a time that stands in none, a role that nobody was named in, a part
 * or a screw that came out without a word of it.
 *
 * @param differences lengths in mm that follow from two that were entered, as the test states them
 */
export function unsaid(log: readonly Entry[], papers: Papers, differences: readonly number[] = []): string[] {
  const known = new Set([...lengthsIn(log), ...differences, 0]);
  const apart = new Set([...papers.section('bone'), ...papers.section('cautions')]);
  // The next surgeon reads the same lines on the bone, each under what it is of.
  const unlabelled = (one: string) => one.replace(/^(?:Then|Estimate now[^:]*|Damals|Schätzung jetzt[^:]*): /, '');
  const sentences = papers.sentences.filter((one) => !apart.has(unlabelled(one)) && !reckoned.test(one));
  const lengths = sentences.filter((one) =>
    [...one.matchAll(/(\d+(?:[.,]\d+)?) mm(?!Hg)/g)].some(([, mm]) => !known.has(Number(mm?.replace(',', '.')))),
  );
  const clocks = new Set(log.flatMap(({ at, logged }) => [at.slice(11, 19), logged.slice(11, 19)]));
  const times = sentences.filter((one) => [...one.matchAll(/\d\d:\d\d:\d\d/g)].some(([time]) => !clocks.has(time)));
  const roles = rolesIn(log);
  const named = sentences.filter((one) => {
    // What is named as missing is named, and nobody with it.
    const told = one
      .replace(/"[^"]*"/g, '')
      .replace(/^[^:]*: not recorded$/, '')
      .replace(/^Not recorded, of the lists .*$/, '');
    return Object.entries(roleWords).some(([role, word]) => !roles.has(role) && word.test(told));
  });
  const silent = Object.entries(papers.state.parts)
    .filter(([, { end }]) => end === null)
    .map(([id]) => (id === 'plate' || id === 'nail' ? `the ${id}` : `part ${id}`));
  const inOnes = Object.keys(papers.state.screws).filter(
    (id) =>
      !log.some(
        (entry) =>
          'screw' in entry &&
          entry.screw === id &&
          ((entry.type === 'move-ended' && entry.outcome === 'out') ||
            (entry.type === 'piece-recovered' && (entry.whole ?? entry.complete) !== undefined)),
      ),
  );
  const outs = [...silent, ...inOnes.map((id) => `screw ${id}`)].flatMap((name) =>
    sentences.filter(
      (one) =>
        !/^(?:Whether |It (?:was not written down|is not known) if )/.test(one) &&
        new RegExp(
          `\\b${name}(?: \\([^)]*\\))?(?: came out|: out\\b| (?:is|are) out\\b)|taken out:[^;]*\\b${name}\\b`,
          'i',
        ).test(one),
    ),
  );
  return [...lengths, ...times, ...named, ...outs];
}
