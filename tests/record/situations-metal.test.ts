/** What the papers say of metal that was listed wrong, broken before, packed in, cut, or on no list. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft, EntryOf } from '../../machines/entry.ts';
import { papersOf, Story, unsaid } from './situations.ts';

const whole = { recovered: 36, lengthHow: 'measured', whole: true } as const;
const plateOut: EntryDraft = { type: 'part-ended', part: 'plate', end: 'out' };
const ended: EntryDraft = { type: 'work-ended' };
const turned = (end: Partial<EntryOf<'move-ended'>> = whole) =>
  new Story().atWork().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'out', end);

describe('a screw listed as 36 mm that came out whole and measured 34', () => {
  const { entries } = turned({ ...whole, recovered: 34 })
    .tell('10:40', plateOut)
    .tell('10:45', ended);
  const papers = papersOf(entries);

  it('is as long as it was measured: nothing is missing, and nothing is stretched', () => {
    expect(papers.state.screws['1']).toMatchObject({ stage: 'out', lengthAsked: null });
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'measured', recovered: 34, unaccounted: 0 });
    expect(papers.section('metal')[0]).toBe(
      'Screw 1: listed 36 mm, recovered 34 mm, stays 0 mm, not accounted for 0 mm; accounted for, measured; whole, tip and head seen',
    );
    expect(papers.text).toContain(
      'Screw 1 came out; it was whole, tip and head seen; 34 mm (measured) of it recovered.',
    );
    expect(papers.brief).not.toContain('2 mm not accounted');
    expect(papers.patient).toContain('By this record, all of the metal on the list is out.');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and not said to be whole is asked about: until then it counts as in', () => {
    const log = turned({ recovered: 30, lengthHow: 'measured' }).entries;
    const asked = papersOf(log);
    expect(asked.state.screws['1']).toMatchObject({ stage: 'seated', lengthAsked: log.length });
    expect(asked.section('metal')[0]).toBe(
      'Screw 1: listed 36 mm, recovered 30 mm, stays 0 mm, not accounted for 6 mm; NOT ACCOUNTED FOR: it came out 6 mm short, and why was not said',
    );
    expect(asked.value('operation', 'procedure')).toBe(
      'from the log: 0 of 1 listed screw out; from the log: screw 1 neither out nor left in',
    );
    expect(unsaid(log, asked, [6])).toEqual([]);
  });

  it('of which a break was told late is whole no more', () => {
    const log = new Story()
      .atWork()
      .begins('10:20', '1', 'turn-out')
      .ends('10:22', '1', 'out', { ...whole, recovered: 34 })
      .begins('10:30', '1', 'turn-out', '10:08')
      .ends('10:30', '1', 'shank-broke', { reachable: true }, '10:09')
      .tell('10:45', ended).entries;
    expect(papersOf(log).state.screws['1']?.metal).toMatchObject({ closes: 'open', recovered: 34, unaccounted: 2 });
  });
});

describe('a screw that had broken before today', () => {
  const listed = { stage: 'fragment-retained', length: 20 } as const;
  const reamed = (end: Partial<EntryOf<'move-ended'>>) =>
    new Story()
      .atWork(listed)
      .tell('10:08', { type: 'hold-answered', hold: 'reverse', screw: '1', answer: 'confirmed' })
      .begins('10:10', '1', 'hollow-ream')
      .ends('10:30', '1', 'out', end)
      .tell('10:40', plateOut)
      .tell('10:45', ended).entries;

  it('is listed with what is in the body now, and that is what is accounted for', () => {
    const entries = reamed({ recovered: 20, lengthHow: 'measured' });
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({
      listed: 20,
      recovered: 20,
      unaccounted: 0,
      closes: 'measured',
    });
    expect(papers.section('metal')[0]).toBe(
      'Screw 1: listed 20 mm, recovered 20 mm, stays 0 mm, not accounted for 0 mm; accounted for, measured',
    );
    expect(papers.text).toContain('20 mm long, two cortices; known state: broken deep, one piece left.');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('that nobody measured never broke today, so it is taken as whole; no slip or break is told of it', () => {
    const entries = reamed({});
    const papers = papersOf(entries);
    expect(papers.state.screws['1']).toMatchObject({
      slips: 0,
      metal: { closes: 'assumed', recovered: null, unaccounted: 0 },
    });
    expect(papers.value('operation', 'complications')).toBe('not recorded');
    expect(papers.text).not.toMatch(/broken shank|slip in the recess/);
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and still in is as long as it was listed, by the account', () => {
    const { entries } = new Story().atWork(listed).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.stillIn).toContain(
      'Screw 1: whether it is out or stays was not told; last known: a broken piece lying deep',
    );
    expect(papers.stillIn).toContain('about 20 mm long (by the account, not measured)');
    expect(unsaid(entries, papers)).toEqual([]);
  });
});

describe('foil packed into the recess', () => {
  const packed = () =>
    new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'slipped')
      .tell('10:13', { type: 'reassessed', screw: '1', checks: {} })
      .begins('10:20', '1', 'pack-recess');
  const foil = `foil-1-${packed().n}`;
  const named = `the foil of screw 1 (entry ${packed().n})`;
  const heading = `T${named.slice(1)}`;
  const done = () => packed().ends('10:22', '1', 'out', whole).tell('10:40', plateOut);

  it('is in the account by itself, and open while nobody speaks of it', () => {
    const { entries } = done().tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.parts[foil]).toEqual({ kind: 'foil', end: null, pieces: 1, closes: 'open' });
    expect(papers.state.holds).toContain('count');
    expect(papers.section('metal')).toContain(`${heading}: nobody spoke of it; NOT ACCOUNTED FOR`);
    expect(papers.patient).toContain('It was not written down if the metal foil put into screw 1 is out or still in');
    expect(papers.value('operation', 'implants')).toBe('from the log: taken out: screw 1 and the plate');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and left in stands on every paper, with where and why, and without a size that nobody measured', () => {
    const left = { where: 'in the soft tissue', reason: 'too small to find', imageTaken: true };
    const { entries } = done()
      .tell('10:42', { type: 'part-ended', part: foil, end: 'left-in', ...left })
      .tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.parts[foil]).toMatchObject({ end: 'left-in', closes: 'assumed' });
    expect(papers.section('stays-in').slice(0, 9)).toEqual([
      `${heading} (entry ${entries.length - 1})`,
      'Material: not recorded',
      'Size: not measured',
      'Where: in the soft tissue',
      'Why it stays: too small to find',
      'Image: yes',
      'Decided by: not recorded',
      'Told to: not recorded',
      'MR status of anything left in is not assessed here. Tell the MRI team before any scan.',
    ]);
    for (const paper of [papers.text, papers.brief, papers.patient, papers.stillIn])
      expect(paper).toContain('too small to find');
    expect(papers.patient).toContain(
      'The metal foil put into screw 1 is still in - What it is made of was not written down. Its size is not known. - Where: in the soft tissue. Why it stays: too small to find. - An X-ray was taken when it was left in.',
    );
    expect(unsaid(entries, papers)).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german)).toEqual([]);
    expect(german.patient).toContain('too small to find');
    expect(german.value('stays-in', `part-${foil}`)).toBe('belassen');
  });

  it('and out is out, once it was said', () => {
    const { entries } = done().tell('10:42', { type: 'part-ended', part: foil, end: 'out' }).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.value('operation', 'implants')).toBe(`from the log: taken out: screw 1, the plate and ${named}`);
    expect(papers.patient).not.toContain('foil');
    expect(unsaid(entries, papers)).toEqual([]);
  });
});

describe('half a plate that stays', () => {
  const cut = (pieces = 2) =>
    turned()
      .tell('10:20', { type: 'part-listed', part: 'plate', kind: 'plate', pieces })
      .tell('10:25', { type: 'part-ended', part: 'plate', piece: 1, end: 'out' })
      .tell('10:30', {
        ...({ type: 'part-ended', part: 'plate', piece: 2, end: 'left-in' } as const),
        ...{ where: 'under the far end', reason: 'overgrown with bone', imageTaken: true },
      });
  const { entries } = cut().tell('10:45', ended);
  const papers = papersOf(entries);

  it('is told piece by piece, and neither all out nor all in', () => {
    expect(papers.state.parts.plate).toEqual({ kind: 'plate', end: 'left-in', pieces: 2, closes: 'difference' });
    expect(papers.value('stays-in', 'part-plate')).toBe('some of it out, the rest said to stay, in 2 pieces');
    expect(papers.section('metal')).toContain('The plate (plate): some of it out, the rest said to stay, in 2 pieces');
    expect(papers.rows.filter(({ sentence }) => sentence.startsWith('Piece')).map(({ sentence }) => sentence)).toEqual([
      'Piece 1 of the plate came out.',
      'Piece 2 of the plate was left in; where: under the far end; why: overgrown with bone; an image was taken.',
    ]);
    expect(papers.patient).toContain(
      'A part of the plate is still in - What it is made of was not written down. Its size is not known.',
    );
    expect(papers.patient).toContain('Why it stays: overgrown with bone.');
    expect(papers.text).not.toMatch(/The plate came out|plate: out\b|nobody spoke of it/);
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('of three pieces, two told of, is open: the third nobody spoke of', () => {
    const log = cut(3).tell('10:45', ended).entries;
    const three = papersOf(log);
    expect(three.state.parts.plate).toMatchObject({ pieces: 3, closes: 'open' });
    expect(three.value('stays-in', 'part-plate')).toBe('some of it left in, in 3 pieces, the rest not said');
    expect(three.state.holds).toContain('count');
    expect(unsaid(log, three)).toEqual([]);
  });

  it('is listed as a part of the plate among what is out and among what stays, never as the plate', () => {
    expect(papers.value('operation', 'implants')).toBe(
      'from the log: taken out: screw 1 and part of the plate (plate); from the log: left in: part of the plate (plate)',
    );
    const one = turned()
      .tell('10:20', { type: 'part-listed', part: 'plate', kind: 'plate', pieces: 2 })
      .tell('10:25', { type: 'part-ended', part: 'plate', piece: 1, end: 'out' });
    expect(papersOf(one.entries).value('operation', 'implants')).toBe(
      'from the log: taken out: screw 1 and part of the plate (plate)',
    );
  });

  it('and both halves that stay are all of it, not a part', () => {
    const stays = { type: 'part-ended', part: 'plate', end: 'left-in', reason: 'overgrown with bone' } as const;
    const log = turned()
      .tell('10:20', { type: 'part-listed', part: 'plate', kind: 'plate', pieces: 2 })
      .tell('10:25', { ...stays, piece: 1 })
      .tell('10:26', { ...stays, piece: 2 }).entries;
    const both = papersOf(log);
    expect(both.state.parts.plate).toMatchObject({ end: 'left-in', closes: 'assumed' });
    expect(both.patient).toContain('The plate is still in - What it is made of');
    expect(both.patient).not.toMatch(/part of the plate/i);
  });
});

describe('a bolt that was on no list', () => {
  const found = () =>
    new Story()
      .opened('10:00', { construct: 'nail', planned: 'Nail and bolts out' })
      .screw('10:01', '1')
      .room('10:02')
      .tell('10:05', { type: 'work-started' })
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'out', whole)
      .tell('10:20', { type: 'part-listed', part: 'bolt-1', kind: 'other', what: 'bolt across the nail' });
  const nailOut: EntryDraft = { type: 'part-ended', part: 'nail', end: 'out' };

  it('is in the account from when it was found, and holds the count until somebody speaks of it', () => {
    const { entries } = found().tell('10:30', nailOut).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.parts).toEqual({
      nail: { kind: 'nail', end: 'out', pieces: 1, closes: 'assumed' },
      'bolt-1': { kind: 'other', end: null, pieces: 1, closes: 'open' },
    });
    expect(papers.state.holds).toContain('count');
    expect(papers.section('metal')).toContain(
      'Part bolt-1 (other part, bolt across the nail): nobody spoke of it; NOT ACCOUNTED FOR',
    );
    expect(papers.text).toContain('10:20:00 (');
    expect(papers.text).toContain('Part bolt-1 was listed: other part, bolt across the nail.');
    expect(papers.patient).toContain(
      'It was not written down if part bolt-1 (other part, bolt across the nail) is out or still in',
    );
    expect(papers.text).not.toMatch(/plate (was )?taken off|The plate/);
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and out is out; the nail that nobody spoke of is not', () => {
    const { entries } = found().tell('10:25', { type: 'part-ended', part: 'bolt-1', end: 'out' }).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.value('operation', 'implants')).toBe('from the log: taken out: screw 1 and part bolt-1');
    expect(papers.value('stays-in', 'part-nail')).toBe('not recorded');
    expect(papers.section('metal')).toContain('The nail (nail): nobody spoke of it; NOT ACCOUNTED FOR');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and not found is said so on the patient’s page', () => {
    const { entries } = found()
      .tell('10:25', { type: 'part-ended', part: 'bolt-1', end: 'not-found', imageTaken: true })
      .tell('10:30', nailOut)
      .tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.parts['bolt-1']).toMatchObject({ end: 'not-found', closes: 'open' });
    expect(papers.patient).toContain('Part bolt-1 (other part, bolt across the nail) was not found');
    expect(papers.patient).toContain('It may still be in you, or it may be out. This is not known.');
    expect(unsaid(entries, papers)).toEqual([]);
  });
});
