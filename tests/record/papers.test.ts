/** The papers for the patient, the next surgeon and sterile services: what an entry says, and nothing that none does. */
import { describe, expect, it } from 'vitest';
import { buildTools, note } from '../../src/record/index.ts';
import { content } from './cases.ts';
import { papersOf, Story, unsaid } from './situations.ts';
import { flat } from './helpers.ts';

const stays = { where: 'far wall', reason: 'too deep' } as const;
const plateOut = { type: 'part-ended', part: 'plate', end: 'out' } as const;
const two = () => new Story().atWork().screw('10:06', '2');
const allOut = 'By this record, all of the metal on the list is out.';
const patientOf = (story: Story) => papersOf(story.entries).patient;
const toolsOf = (story: Story) => {
  const { record } = papersOf(story.entries);
  const table = buildTools(record).sections[0]?.blocks.find((block) => block.kind === 'table');
  return table?.kind === 'table' ? table.rows : [];
};

describe('the page for the patient where no piece is listed as in', () => {
  const out = () => new Story().atWork().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'out');

  it('says that all of the metal is out only once everything on the list was said to be out', () => {
    expect(patientOf(out())).not.toContain(allOut);
    expect(patientOf(out())).toContain('It was not written down if the plate is out or still in');
    expect(patientOf(out().tell('10:14', plateOut))).toContain(allOut);
  });

  it('does not say so where the count says that something is missing, and tells what was written', () => {
    const by: ('scrub' | 'surgeon')[] = ['scrub', 'surgeon'];
    const count = { type: 'count-answered', by, discrepancy: 'one washer' } as const;
    const counted = (more: object = {}) =>
      out()
        .tell('10:14', plateOut)
        .tell('10:20', { ...count, ...more });
    expect(patientOf(counted())).not.toContain(allOut);
    expect(patientOf(counted())).toContain('it is not known if all of the metal is out');
    expect(patientOf(counted())).toContain('The team wrote: one washer.');
  });

  it('does not say so of a case that lists nothing', () => {
    for (const story of [new Story(), new Story().opened('10:00', { construct: 'screws' })]) {
      expect(patientOf(story)).not.toContain(allOut);
      expect(patientOf(story)).toContain('This record lists no metal.');
    }
  });
});

describe('the page for the patient', () => {
  const broken = () => two().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'shank-broke', { reachable: false });

  it.each([
    ['clear', 'Nothing was seen on the X-ray.'],
    ['metal-seen', 'Metal was seen on the X-ray.'],
    ['not-sure', 'The team was not sure what it showed.'],
    ['not-taken', 'No X-ray was taken.'],
  ] as const)('says what an image at the count showed: %s', (image, words) => {
    const story = broken().tell('10:20', {
      type: 'count-answered',
      by: ['scrub', 'surgeon'],
      image,
      discrepancy: 'a piece',
    });
    expect(patientOf(story)).toContain(words);
    if (image !== 'clear') expect(patientOf(story)).not.toContain('Nothing was seen');
  });

  it('takes an image of which nobody said what it showed for no finding, and no count for none', () => {
    const taken = broken().tell('10:20', {
      type: 'count-answered',
      by: ['scrub', 'surgeon'],
      imageTaken: true,
      discrepancy: 'a piece',
    });
    expect(patientOf(taken)).toContain('What it showed was not written down.');
    expect(patientOf(broken())).toContain('No count of the metal was written down.');
  });

  it('never says of a clear image that nothing was seen where metal is known to be in', () => {
    const story = broken()
      .tell('10:15', { type: 'left-in', screw: '2', length: null, ...stays })
      .tell('10:20', { type: 'count-answered', by: ['scrub', 'surgeon'], image: 'clear', discrepancy: 'a piece' });
    expect(patientOf(story)).toContain('Nothing of what is missing was seen on the X-ray.');
    expect(patientOf(story)).not.toContain('Nothing was seen');
  });

  it('gives no length while an account is open, and says of what was worked out that it was', () => {
    const left = (more: object) =>
      broken().tell('10:30', { type: 'left-in', screw: '1', length: null, ...stays, ...more });
    expect(patientOf(left({}))).toContain('how long is not known');
    expect(patientOf(left({ length: 12, lengthHow: 'measured' }))).toContain('4.5 mm thick, 12 mm long.');
    expect(patientOf(left({ length: 12, lengthHow: 'image', imageTaken: true }))).toContain(
      'about 12 mm long (read off an X-ray)',
    );
  });

  it('tells pieces alike together, with where, why and whether an image was taken', () => {
    const story = two();
    for (const screw of ['1', '2'])
      story.tell('10:30', { type: 'left-in', screw, length: null, ...stays, imageTaken: false });
    expect(patientOf(story)).toContain(
      'Screws 1 and 2 are still in - The metal is steel. Size: 4.5 mm thick, 36 mm long by the list (not measured). - Where: far wall. Why it stays: too deep. - No X-ray was taken when it was left in.',
    );
  });

  it('says what was told, and of what is still to be told that it is', () => {
    const tell = (state: 'told' | 'to-be-told') =>
      patientOf(two().tell('10:40', { type: 'patient-told', state, by: 'R. Invented', points: ['size', 'mri'] }));
    expect(tell('told')).toContain('Told to you by R. Invented: its size and MRI scans.');
    expect(tell('to-be-told')).toContain('Still to be told to you by R. Invented: its size and MRI scans.');
    expect(patientOf(two())).toContain('What you were told was not written down.');
  });

  it('leaves out what was struck', () => {
    const story = two().tell('10:30', { type: 'left-in', screw: '1', length: null, ...stays });
    expect(patientOf(story)).toContain('Screw 1 is still in');
    story.tell('10:31', { type: 'struck', entry: story.n, reason: 'the other screw' });
    expect(patientOf(story)).not.toMatch(/(?<!if )screw 1 is still in/i);
  });

  it('says a tool that broke with a piece in the bone as what it is', () => {
    const story = two()
      .tell('10:10', { type: 'tool-damaged', tool: 'metal-cutting-burr', how: 'its head broke off', tipMissing: true })
      .tell('10:12', { type: 'left-in', tool: 'metal-cutting-burr', length: null, ...stays });
    expect(patientOf(story)).toContain('A piece of a tool (metal-cutting burr) is still in - It is metal of a tool.');
    expect(unsaid(story.entries, papersOf(story.entries))).toEqual([]);
  });
});

describe('the page for the next surgeon', () => {
  const slipped = () =>
    two()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'slipped')
      .begins('10:13', '1', 'reseat-driver')
      .ends('10:14', '1', 'slipped');

  it('tells what was tried, the same several times running in one line, and what would be needed', () => {
    const story = slipped().begins('10:15', '1', 'reseat-driver').ends('10:16', '1', 'slipped');
    const { stillIn } = papersOf(story.entries);
    expect(stillIn).toContain('Clear, reseat, turn once more: the driver slipped in the recess of screw 1 (twice).');
    expect(stillIn).toContain('What would be needed from this state (recess stripped)');
    expect(stillIn).toContain('Drill the head off, lift the plate: hard-metal drill for screws of 4.5 mm.');
    expect(stillIn).toContain(
      'What would be needed from this state (still seated), by the rules of this tool; no advice: - Turn out with the matched driver: matched driver (hexagonal 3.5).',
    );
  });

  it('has a way that hangs on what was seen once somebody saw it, and says that others are not listed', () => {
    const story = two().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'shank-broke', { reachable: false });
    const through = 'Drive the fragment out through the far side: punch; image intensifier.';
    expect(papersOf(story.entries).stillIn).not.toContain(through);
    expect(papersOf(story.entries).stillIn).toContain('is not listed among them');
    story.tell('10:13', { type: 'found', screw: '1', corridor: true, tipProud: true });
    expect(papersOf(story.entries).stillIn).toContain(through);
  });

  it('has the bone then with its source and what is reckoned now, marked as an estimate', () => {
    const { stillIn } = papersOf(slipped().entries);
    expect(stillIn).toContain('Then: Bone at this level: outer diameter 27 mm, cortex 5 mm, measured');
    expect(stillIn).toContain('Estimate now (reckoned, nobody has measured it since):');
    expect(stillIn).toContain('All figures are estimates.');
  });

  it('tells alike pieces once, and leaves room for a code', () => {
    const { stillIn } = papersOf(two().tell('10:20', { type: 'stopped', reason: 'bleeding' }).entries);
    expect(stillIn).toContain('Screws 1 and 2, each: the whole screw');
    expect(stillIn.match(/The screw was:/g)).toHaveLength(1);
    expect(stillIn).toContain('[ Room for the code of a metal passport');
  });
});

describe('the list for sterile services', () => {
  it('says that nothing was noted where nothing was, though many tools are in the room', () => {
    for (const story of [new Story(), two()]) {
      expect(toolsOf(story)).toEqual([]);
      expect(flat(note('tools', papersOf(story.entries).record, content))).toContain(
        'Nothing was noted of any instrument.',
      );
    }
  });

  it('has a driver that slipped, by its size and how often; which one, only where it was said', () => {
    const driver = { type: 'tool-in-room', tool: 'driver-hexagonal', present: true, size: 3.5 } as const;
    const begin = { type: 'move-started', screw: '1', move: 'turn-out' } as const;
    const slip = (more: object) =>
      new Story()
        .opened()
        .screw('10:01', '1')
        .tell('10:02', driver)
        .tell('10:05', { type: 'work-started' })
        .tell('10:10', { ...begin, ...more })
        .ends('10:12', '1', 'slipped');
    expect(toolsOf(slip({ tool: 'driver-hexagonal' }))).toEqual([
      ['Hexagonal driver', 'size 3.5', 'slipped: screw 1', 'look at it'],
    ]);
    const unnamed = slip({}).begins('10:13', '1', 'reseat-driver').ends('10:14', '1', 'slipped');
    expect(toolsOf(unnamed)).toEqual([
      ['Driver, which one not recorded', 'not recorded', 'slipped: screw 1 (twice)', 'look at it'],
    ]);
    expect(toolsOf(unnamed.tell('10:15', { type: 'struck', entry: unnamed.n, reason: 'it held' }))[0]?.[2]).toBe(
      'slipped: screw 1',
    );
  });

  it('has a jammed tap to part from its screw, with how it is done', () => {
    const story = two()
      .tell('10:10', { type: 'move-started', screw: '1', move: 'reverse-tap', tool: 'reverse-tap' })
      .ends('10:12', '1', 'out', { toolJammed: true });
    expect(toolsOf(story).find(([name]) => name === 'Reverse-thread tap')).toEqual([
      'Reverse-thread tap',
      'not recorded',
      'came out jammed in the screw: screw 1; used on metal: screw 1',
      'part it from the screw; sharpen or replace; look at it',
    ]);
    expect(flat(note('tools', papersOf(story.entries).record, content))).toContain('Hold the screw in pliers');
  });

  it('has a tool that broke once, though its breaking and its damage are two entries', () => {
    const broke = two()
      .tell('10:10', { type: 'move-started', screw: '1', move: 'conical-extractor', tool: 'conical-extractor' })
      .ends('10:12', '1', 'tool-broke');
    const row = (story: Story) => toolsOf(story).find(([name]) => name === 'Conical extractor');
    expect(row(broke)?.[2]).toContain('broke: screw 1');
    broke.tell('10:13', {
      type: 'tool-damaged',
      tool: 'conical-extractor',
      how: 'tip gone',
      tipMissing: true,
      length: 4,
      lengthHow: 'measured',
      kept: true,
    });
    expect(row(broke)?.[2]).toContain('tip gone, its tip missing (4 mm), kept');
    expect(row(broke)?.[2]).not.toContain('broke: screw 1');
    expect(row(broke)?.[2]).toContain('NOT ACCOUNTED FOR');
    expect(row(broke)?.[3]).toBe('replace');
  });

  it('names no tool that nobody asked for; one said to be gone at the table is to be looked for', () => {
    const story = two().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'out');
    expect(toolsOf(story)).toEqual([]);
    story.tell('10:20', { type: 'tool-in-room', tool: 'metal-foil', present: false });
    expect(toolsOf(story)).toEqual([
      ['Soft metal foil', 'not recorded', 'said to be no longer in the room', 'look at it'],
    ]);
  });

  it('is a table of four columns as CSV, in no cell a formula', () => {
    const story = two().tell('10:10', { type: 'tool-damaged', tool: 'gouge', how: '=1+1', tipMissing: false });
    const csv = note('tools-csv', papersOf(story.entries).record, content);
    expect(csv.split('\r\n')).toEqual(['instrument,size,happened,to_do', "Gouge,not recorded,'=1+1,replace", '']);
  });
});
