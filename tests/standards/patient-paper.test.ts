/** The page for the patient in whole, at a reading age of 11 in both languages: formulas and sources in `reading-age.ts`. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { fleschKincaid as published } from 'flesch-kincaid';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { loadLanguage } from '../../content/languages.ts';
import { fetchReleases } from '../../content/later.ts';
import { patientCautions } from '../../content/patient-cautions.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { view } from '../../machines/view.ts';
import { buildPatient, buildRecord } from '../../src/record/index.ts';
import { loadLocale, localeOf } from '../../src/record/locales/index.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import { explore } from '../explore.ts';
import { anyLog } from '../machines/generate.ts';
import { toldFrom } from '../machines/generate-2.ts';
import { atTable } from '../machines/ladder-2/build.ts';
import { cases, written, type Written } from '../record/cases.ts';
import { randomLog } from '../record/random-log.ts';
import {
  countsOf,
  fleschKincaid,
  germanSyllables,
  linesOfPage,
  sentencesOf,
  wienerSachtext,
  yearOf,
  yearOfEleven,
  type Tongue,
} from './reading-age.ts';

beforeAll(async () => {
  await Promise.all([loadLocale('de'), loadLanguage('de'), fetchReleases(['2026.2-draft'])]);
});

const tongues: readonly Tongue[] = ['en', 'de'];

function paperOf(entries: readonly Entry[], version: string, tongue: Tongue) {
  const content = loadContent(version, tongue) as Content;
  const folded = fold(entries, content);
  return buildPatient(buildRecord(entries, folded, view(folded), content), content);
}
const lines = (entries: readonly Entry[], version: string, tongue: Tongue) =>
  linesOfPage(paperOf(entries, version, tongue));

const golden = (name: string) =>
  (JSON.parse(readFileSync(new URL(`../golden/${name}.case.json`, import.meta.url), 'utf8')) as { entries: Entry[] })
    .entries;
const goldens = ['easy-plate', 'hard-plate', 'nail-bolt'];

/** The invented case of the first run as it is briefed, and played on to an end. */
const demo = (more: readonly Written[] = []) => written([...demoDrafts('Europe/Oslo'), ...more] as Written[]);
const demoLeft = demo([
  { type: 'work-started' },
  { type: 'move-started', screw: '1', move: 'turn-out' },
  { type: 'move-ended', screw: '1', outcome: 'out' },
  { type: 'move-started', screw: '2', move: 'turn-out' },
  { type: 'move-ended', screw: '2', outcome: 'shank-broke', reachable: false },
  { type: 'left-in', screw: '2', length: null, where: 'far wall', reason: 'too deep to reach', imageTaken: true },
  { type: 'work-ended' },
  { type: 'patient-told', state: 'told', by: 'the surgeon', points: ['material', 'size', 'place', 'risks', 'mri'] },
] as Written[]);

describe('the formulas', () => {
  it('give what is worked out by hand in English', () => {
    // "The cat sat on the mat. It was fat." 9 words, 2 sentences, 9 syllables:
    // 0.39 x 4.5 + 11.8 x 1 - 15.59 = 1.755 + 11.8 - 15.59 = -2.035.
    const short = countsOf(['The cat sat on the mat. It was fat.'], 'en');
    expect(short).toEqual({ sentences: 2, words: 9, syllables: 9, long: 0 });
    expect(fleschKincaid(short)).toBeCloseTo(-2.035, 9);
    // "Examine the remaining metal" 4 words; ex-am-ine 3, the 1, re-main-ing 3, met-al 2 = 9:
    // 0.39 x 4 + 11.8 x 2.25 - 15.59 = 1.56 + 26.55 - 15.59 = 12.52.
    const hard = countsOf(['Examine the remaining metal'], 'en');
    expect(hard).toEqual({ sentences: 1, words: 4, syllables: 9, long: 2 });
    expect(fleschKincaid(hard)).toBeCloseTo(12.52, 9);
    // And as a package has it.
    expect(published({ sentence: 1, word: 4, syllable: 9 })).toBeCloseTo(12.52, 9);
  });

  it('give what is worked out by hand in German', () => {
    // "Das Metall bleibt drin. Heben Sie dieses Blatt auf." 9 words, 2 sentences, no word of three syllables:
    // 0.2656 x 4.5 - 1.693 = 1.1952 - 1.693 = -0.4978.
    const short = countsOf(['Das Metall bleibt drin. Heben Sie dieses Blatt auf.'], 'de');
    expect(short).toMatchObject({ sentences: 2, words: 9, long: 0 });
    expect(wienerSachtext(short)).toBeCloseTo(-0.4978, 9);
    // "Der Operateur entfernte die Schraube gestern" 6 words; O-pe-ra-teur 4, ent-fern-te 3, Schrau-be 2, ges-tern 2:
    // 0.2656 x 6 + 0.2744 x 33.333 - 1.693 = 1.5936 + 9.14667 - 1.693 = 9.04727.
    const hard = countsOf(['Der Operateur entfernte die Schraube gestern'], 'de');
    expect(hard).toMatchObject({ sentences: 1, words: 6, long: 2 });
    expect(wienerSachtext(hard)).toBeCloseTo(9.04727, 4);
  });

  it.each([
    ['Schraube', 2],
    ['Blutsperre', 3],
    ['Säubern', 2],
    ['zwei', 1],
    ['Operateur', 4],
  ])('count the syllables of %s', (word, count) => expect(germanSyllables(word)).toBe(count));

  it('read an abbreviation as it is spoken', () => {
    expect(countsOf(['5 mm'], 'en').syllables).toBe(4);
    expect(countsOf(['vor einem MRT'], 'de')).toMatchObject({ words: 3, long: 1 });
  });

  it('would not pass the words of the note', () => {
    expect(
      yearOf(['Demonstrable intraoperative fragmentation necessitated retention of osseointegrated material.'], 'en'),
    ).toBeGreaterThan(12);
    expect(
      yearOf(
        ['Intraoperative Fragmentierung erforderte die Belassung osseointegrierter metallischer Materialien.'],
        'de',
      ),
    ).toBeGreaterThan(12);
  });
});

describe.each(tongues)('the whole page for the patient (%s) reads at an age of 11', (tongue) => {
  const within = (entries: readonly Entry[], version: string) => {
    const text = lines(entries, version, tongue);
    expect(text.length).toBeGreaterThan(12);
    expect(yearOf(text, tongue), text.join('\n')).toBeLessThanOrEqual(yearOfEleven);
    // Titles and names of lines are short and pull the year down: whole sentences alone read no harder.
    const long = sentencesOf(text, tongue).filter((one) => (one.match(/\p{L}+/gu) ?? []).length >= 5);
    expect(long.length).toBeGreaterThan(5);
    const year = yearOf(long, tongue);
    expect(year, long.join('\n')).toBeLessThanOrEqual(yearOfEleven);
  };

  it.each(goldens)('in the golden case %s', (name) => within(golden(name), '2026.1'));
  it.each(Object.keys(cases))('in the case %s', (name) => within(cases[name] as Entry[], '2026.1'));
  it('in the invented case of the first run, briefed and stopped with metal in', () => {
    within(demo(), '2026.1');
    within(demoLeft, '2026.1');
  });
  it('in any log of the first release', () => {
    explore(
      fc.property(anyLog, ({ entries }) => within(entries, '2026.1')),
      { numRuns: 15 },
    );
    explore(
      fc.property(randomLog, (entries) => within(entries, '2026.1')),
      { numRuns: 15 },
    );
  }, 60_000);
  it('in any log of the draft', () => {
    explore(
      fc.property(
        toldFrom(() => atTable()),
        ({ entries }) => within(entries, '2026.2-draft'),
      ),
      { numRuns: 15 },
    );
  }, 60_000);
  it('with every line for the time after that a surgeon can accept, in plain words of its own', () => {
    const { aftercare } = loadContent('2026.2-draft', tongue) as Content;
    const { after } = localeOf(tongue).papers.patient;
    expect(Object.keys(after)).toEqual(aftercare.map(({ id }) => id));
    for (const { id } of aftercare) {
      const log = atTable().write({ type: 'aftercare', line: id, state: 'accepted' });
      within(log.entries, '2026.2-draft');
      expect(lines(log.entries, '2026.2-draft', tongue)).toContain(after[id]);
    }
  });
});

describe('what the page for the patient says besides the log', () => {
  it('rests on a source of every release, or on common practice', () => {
    for (const version of ['2026.1', '2026.2-draft']) {
      const known = (loadContent(version) as Content).sources.map(({ id }) => id);
      for (const { source } of patientCautions)
        expect([...known, 'common practice, no source'], version).toContain(source);
    }
  });

  it.each(tongues)('cites nothing, names no number to call, and leaves lines to fill in by hand (%s)', (tongue) => {
    const { sections } = paperOf(golden('hard-plate'), '2026.1', tongue);
    const content = loadContent('2026.1', tongue) as Content;
    const text = lines(golden('hard-plate'), '2026.1', tongue).join('\n');
    for (const { cite } of content.sources) expect(text).not.toContain(cite);
    expect(text).not.toMatch(/FDA|PMC\d|19\d\d|20[01]\d|\+\d\d|\d{3}[ -]\d{3}/);
    const call = sections.find(({ id }) => id === 'call')?.blocks ?? [];
    expect(call.filter(({ kind }) => kind === 'fill')).toHaveLength(5);
    expect(call.flatMap((block) => ('text' in block ? [block.text] : [])).join(' ')).not.toMatch(/\d/);
  });
});
