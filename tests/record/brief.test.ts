/** What was done, sentence by sentence: each rests on entries, says nothing else, and keeps its measure. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import type { Entry, EntryOf } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { rowOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { mostSentences, mostWords, wordsOf } from '../../src/record/brief/said.ts';
import type { DeedKind, Said } from '../../src/record/brief/deed.ts';
import { buildRecord, type TimelineRow } from '../../src/record/index.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import { explore } from '../explore.ts';
import { anyLog } from '../machines/generate.ts';
import { told2 } from '../machines/generate-2.ts';
import { Log } from '../machines/build.ts';
import { cases } from './cases.ts';
import { randomLog } from './random-log.ts';
import { Story, type Language } from './situations.ts';

const golden = (name: string): Entry[] =>
  (
    JSON.parse(readFileSync(resolve(import.meta.dirname, `../golden/${name}.case.json`), 'utf8')) as {
      entries: Entry[];
    }
  ).entries;

/** The invented case of the first run, played to its end as one evening could go. */
export function playedDemo(): Entry[] {
  const log = new Log();
  for (const draft of demoDrafts('Europe/Oslo')) log.write(draft);
  log.start().write({ type: 'tourniquet', to: 'up', pressure: 250 });
  for (const id of ['1', '2', '4', '6', '7', '8']) log.call(id).after(3).tries(id, 'turn-out', 'out');
  log.call('3').after(3).tries('3', 'turn-out', 'slipped').looksAgain('3', { recessCleared: true });
  log.after(2).tries('3', 'reseat-driver', 'slipped').after(4).tries('3', 'drill-head-off', 'head-sheared');
  log.call('5').after(2).tries('5', 'turn-out', 'head-sheared').write({ type: 'plate-off' });
  log.call('3').after(4).begins('3', 'hollow-ream', { reverseConfirmed: true }).ends('3', 'out', { recovered: 29 });
  log.call('5').after(3).tries('5', 'grip-shank', 'no-change').tries('5', 'gouge-and-grip', 'no-change');
  log.leaves('5', { reason: 'more bone lost than gained', decidedBy: 'the surgeon', imageTaken: true });
  log.write({ type: 'tourniquet', to: 'down' }).write({ type: 'work-ended' });
  return log.write({ type: 'case-closed' }).entries;
}

interface Read {
  said: Said[];
  rows: TimelineRow[];
  entryOf: (n: number) => Entry | undefined;
  counts: (n: number) => boolean;
  /** Entries of every move that counts. */
  moves: number[];
  content: Content;
}

function read(entries: readonly Entry[], language: Language): Read {
  const opening = entries.find((entry): entry is EntryOf<'case-opened'> => entry.type === 'case-opened');
  const content = loadContent(opening?.contentVersion ?? '2026.1', language) as Content;
  const folded = fold(entries, content);
  const record = buildRecord(entries, folded, view(folded), content);
  return {
    content,
    said: record.facts.done,
    rows: record.sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'timeline' ? block.rows : [])),
    ),
    entryOf: (n) => rowOf(folded.trace, n)?.entry,
    counts: (n) => rowOf(folded.trace, n)?.heard === true && rowOf(folded.trace, n)?.struck === false,
    moves: record.facts.screws.flatMap(({ attempts }) =>
      attempts.flatMap(({ n, endedBy }) => (endedBy === null ? [n] : [n, endedBy])),
    ),
  };
}

type Outcome = EntryOf<'move-ended'>['outcome'];
const ended =
  (...outcomes: Outcome[]) =>
  (entry: Entry) =>
    entry.type === 'move-ended' && outcomes.includes(entry.outcome);
const typed =
  (...types: Entry['type'][]) =>
  (entry: Entry) =>
    types.includes(entry.type);
const ending = (end: string) => (entry: Entry) => entry.type === 'part-ended' && entry.end === end;

/** What one at least of the entries must be for a sentence of each kind to be true. */
const proof: Record<DeedKind, (entry: Entry) => boolean> = {
  summary: (entry) =>
    ended('out')(entry) || ending('out')(entry) || typed('plate-off', 'piece-recovered', 'length-answered')(entry),
  'side-corrected': (entry) => entry.type === 'case-corrected' && entry.side !== undefined,
  'bone-corrected': (entry) => entry.type === 'case-corrected' && entry.bone !== undefined,
  'turned-out': ended('out'),
  'taken-out': ended('out'),
  'called-out': ended('out'),
  slipped: (entry) => ended('slipped')(entry) || ended('turns-free')(entry),
  'no-change': ended('no-change'),
  'turns-free': ended('turns-free'),
  'drilled-off': ended('head-sheared', 'set-up-done'),
  'head-came-off': ended('head-sheared'),
  'shank-broke': ended('shank-broke'),
  'tool-broke': ended('tool-broke'),
  'tool-jammed': ended('tool-jammed'),
  moved: ended('moving'),
  readied: ended('set-up-done'),
  'other-end': typed('move-ended'),
  interrupted: typed('stopped', 'deferred'),
  'end-not-told': typed('move-started'),
  'plate-off': typed('plate-off'),
  'part-move': typed('part-move'),
  'part-left': ending('left-in'),
  'part-not-found': ending('not-found'),
  'put-in': typed('put-in'),
  'left-in': typed('left-in'),
  'tip-left': typed('left-in'),
  piece: typed('piece-recovered'),
  'all-of-it': typed('piece-recovered'),
  'tip-piece': typed('piece-recovered'),
  destroyed: typed('destroyed'),
  'tool-damaged': typed('tool-damaged'),
  event: typed('event'),
  stopped: typed('stopped'),
  'put-off': typed('deferred'),
  colleague: typed('colleague-called'),
  'found-out-after': typed('piece-recovered'),
  'said-to-stay-after': typed('left-in'),
  'told-after': typed('move-started', 'part-ended'),
  further: () => true,
};

/** The words of doing of each language, as they stand in the sentences. */
const verbs = {
  en: /\b(?:taken out|corrected|turned out|entered as out|slipped|did not move|turned without coming|drilled off|came off|broke|jammed|moved|made ready|interrupted|begun|lifted|worked on|left in|not found|put in|recovered|cut to shavings|burred away|damaged|was noted|was extended|found not healed|infection was found|were sent|dropped|happened|stopped|put off|called|found out after|said after|told after|left to the timeline)\b/gi,
  de: /(?<![\wäöüß])(?:entfernt|berichtigt|herausgedreht|eingetragen|rutschte|bewegten? sich|drehten? sich|abgebohrt|ging|gingen|brach|brachen|klemmte|vorbereitet|unterbrochen|begonnen|gelöst|bearbeitet|belassen|gefunden|eingebracht|geborgen|zerkleinert|weggefräst|beschädigt|bemerkt|verlängert|eingeschickt|fiel|geschah|abgebrochen|verschoben|gerufen|überlassen)(?![\wäöüß])/g,
};
const past = {
  en: /\b(?:was|were|slipped|did|turned|came|broke|jammed|moved|happened)\b/,
  de: /(?<![\wäöüß])(?:wurden?|rutschte|bewegten?|drehten?|ging|gingen|brach|brachen|klemmte|fiel|geschah)(?![\wäöüß])/,
};
const present = {
  en: /\b(?:is|are|has|have|stays|comes|turns|will|remains)\b/,
  de: /(?<![\wäöüß])(?:ist|sind|wird|werden|bleibt|hat|haben|steckt|kommt)(?![\wäöüß])/,
};

/** Without what somebody typed: it stands after a colon, in quotation marks or in brackets. */
const bare = (text: string) => text.replace(/: .*$/, '').replace(/"[^"]*"|„[^“]*“|\([^)]*\)/g, '');

/** What is wrong with the sentences of a log; nothing when each is said by its entries. */
function faults(entries: readonly Entry[], language: Language): string[] {
  const { said, rows, entryOf, counts, moves } = read(entries, language);
  const found: string[] = [];
  if (said.length > mostSentences) found.push(`${said.length} sentences`);
  for (const { kind, text, from } of said) {
    const wrong = (what: string) => found.push(`${what}: ${text} [${from.join()}]`);
    if (!from.length) wrong('no entry');
    if (from.some((n, i) => i > 0 && n <= (from[i - 1] as number))) wrong('entries not in order');
    if (!from.every(counts)) wrong('an entry without effect');
    const own = from.flatMap((n) => entryOf(n) ?? []);
    if (!own.some(proof[kind])) wrong(`no entry that proves ${kind}`);
    if (wordsOf(text) > mostWords) wrong(`${wordsOf(text)} words`);
    if (!/^\P{Ll}.*\.$/u.test(text)) wrong('no sentence');
    const typedTimes = text.replace(/: .*$/, (rest) => (/[a-zäöü]/i.test(rest) ? '' : rest));
    const times = rows.flatMap(({ n, time }) => (from.includes(n) ? [time.slice(0, 5)] : []));
    for (const [time] of typedTimes.matchAll(/(?<!UTC[+-])\b\d\d:\d\d\b/g))
      if (!times.includes(time)) wrong(`${time} is of none of its entries`);
    if (kind === 'other-end') continue;
    if (bare(text).match(verbs[language])?.length !== 1) wrong('not one verb of doing');
    if (!past[language].test(bare(text)) || present[language].test(bare(text))) wrong('not in the past');
  }
  const told = new Set(said.flatMap(({ from }) => from));
  found.push(...moves.filter((n) => !told.has(n)).map((n) => `entry ${n} of a move is in no sentence`));
  return found;
}

const texts = (entries: readonly Entry[], language: Language = 'en') =>
  read(entries, language).said.map(({ text }) => text);

describe.each(['en', 'de'] as const)('each sentence of what was done (%s)', (language) => {
  it.each([
    ...['easy-plate', 'hard-plate', 'nail-bolt'].map((name) => [name, golden(name)] as const),
    ...Object.entries(cases),
    ['the invented case, played', playedDemo()] as const,
  ])('is said by its entries: %s', (_, entries) => expect(faults(entries, language)).toEqual([]));

  it('is said by its entries, in any log of either format', () => {
    explore(
      fc.property(randomLog, (entries) => void expect(faults(entries, language)).toEqual([])),
      { numRuns: 40 },
    );
    explore(
      fc.property(anyLog, ({ entries }) => void expect(faults(entries, language)).toEqual([])),
      { numRuns: 40 },
    );
    explore(
      fc.property(told2, ({ entries }) => void expect(faults(entries, language)).toEqual([])),
      { numRuns: 40 },
    );
  });
});

describe('the looking at sentences', () => {
  it('sees that what was struck is said no more', () => {
    const easy = golden('easy-plate').slice(0, 17);
    expect(texts(easy)[0]).toBe('Both screws were taken out.');
    const { at, logged } = easy.at(-1) as Entry;
    const struck: Entry = { n: 18, at, logged, type: 'struck', entry: 12, reason: 'typing' };
    expect(texts([...easy, struck]).join(' ')).not.toContain('Both screws');
  });
});

describe('what the sentences say', () => {
  it('groups what was alike and names what went otherwise with its times', () => {
    expect(texts(playedDemo())).toEqual([
      'Seven of eight screws and the plate were taken out.',
      'Six screws (1, 2, 4, 6–8) were turned out with the matched driver.',
      'The driver slipped in screw 3 at 09:48 and 09:51.',
      'The head of screw 3 was drilled off at 09:55.',
      'The head of screw 5 came off with the matched driver at 09:58.',
      'The plate was lifted off the bone at 09:59.',
      'Screw 3 was taken out with the hollow reamer at 10:04, not all of it accounted for.',
      'Screw 5 did not move with a grip on the shank or with gouge and grip at 10:08 and 10:09.',
      'Screw 5 was left in at 10:09: more bone lost than gained.',
    ]);
  });
  it('says nothing where nothing was done, and not that nothing was', () => {
    expect(texts([])).toEqual([]);
    expect(texts(new Story().opened().entries)).toEqual([]);
  });
  it('tells a stop with the reason that was said of it after, and each screw that was in hand', () => {
    const story = new Story().atWork().begins('10:10', '1', 'turn-out').tell('10:12', { type: 'stopped' });
    story.tell('10:13', { type: 'stopped', reason: 'bleeding' });
    expect(texts(story.entries)).toEqual([
      'Work on screw 1 was interrupted at 10:12.',
      'The work was stopped at 10:12: bleeding.',
    ]);
    expect(texts(story.entries, 'de')[1]).toBe('Die Arbeit wurde um 10:12 abgebrochen: Blutung.');
  });
  it('tells a side that was corrected, from what to what', () => {
    const story = new Story().atWork();
    story.tell('10:08', { type: 'case-corrected', side: 'right', reason: 'typed wrong' });
    expect(texts(story.entries)).toEqual(['The side was corrected from LEFT to RIGHT at 10:08.']);
  });
  it('tells a move that was entered late at its own time, and one of another screw as of that', () => {
    const story = new Story().atWork().begins('10:20', '1', 'turn-out', '10:05');
    story.ends('10:20', '1', 'slipped', { start: story.n }, '10:06');
    expect(texts(story.entries)[0]).toContain('slipped in screw 1 at 10:06');
  });
  it('leaves a reason out where there is no room for it, and never the deed', () => {
    const log = new Log().opened().screw('1').start();
    log.leaves('1', { reason: 'because '.repeat(40) });
    const [one] = texts(log.entries).filter((text) => text.includes('left in'));
    expect(one).toMatch(/^Screw 1 was left in at \d\d:\d\d\.$/);
  });
  it('leaves the least to the timeline when there is too much to tell, and says how much', () => {
    const all = texts(golden('hard-plate'));
    expect(all).toHaveLength(mostSentences);
    expect(all.at(-1)).toMatch(/further entries were left to the timeline/);
    expect(all.join(' ')).toMatch(/slipped in screw 1 at 23:01 and 23:03/);
  });
});
