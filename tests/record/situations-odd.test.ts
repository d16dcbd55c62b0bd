/** Orders of work that nobody plans for, by the release to come: what the papers say of them, and what they do not. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { papersOf, Story } from './situations.ts';

const next = { contentVersion: '2026.2-draft', patient: 'adult', limb: 'lower' } as const;
const whole = { recovered: 36, lengthHow: 'measured', whole: true } as const;
const plateOut: EntryDraft = { type: 'part-ended', part: 'plate', end: 'out', complete: true };

/** Opened by the release to come, so many screws listed, every tool in the room, the work begun at 10:05. */
function begun(screws = 1): Story {
  const story = new Story().opened('10:00', next);
  for (let id = 1; id <= screws; id++) story.screw('10:01', String(id));
  return story.room('10:02').tell('10:05', { type: 'work-started' });
}
const turnedOut = (story: Story, screw = '1') =>
  story.begins('10:10', screw, 'turn-out').ends('10:12', screw, 'out', whole);
const ended = (story: Story) =>
  story
    .tell('10:40', plateOut)
    .tell('10:45', { type: 'work-ended' })
    .tell('10:46', { type: 'washed-out' })
    .tell('10:47', { type: 'count-answered', by: ['surgeon', 'scrub'], image: 'clear' })
    .tell('10:50', { type: 'case-closed' });
const broken = (story: Story) =>
  story
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'slipped')
    .tell('10:13', { type: 'reassessed', screw: '1', checks: {} })
    .tell('10:14', { type: 'move-started', screw: '1', move: 'conical-extractor', tool: 'conical-extractor' })
    .ends('10:15', '1', 'tool-broke');

describe('a side corrected after closing, and the correction corrected', () => {
  const story = ended(turnedOut(begun()))
    .tell('11:00', { type: 'case-corrected', side: 'right', reason: 'typed wrong' })
    .tell('11:05', { type: 'case-corrected', side: 'left', reason: 'right the first time' });
  const papers = papersOf(story.entries);

  it('is the last one on every page, and both stay legible', () => {
    expect(papers.value('head', 'side')).toBe('LEFT');
    expect(papers.stillIn).toContain('LEFT TIBIA');
    expect(papers.rows.slice(-2).map(({ marks, sentence }) => [...marks, sentence])).toEqual([
      ['AFTER CLOSING', 'The case was corrected: side RIGHT; reason: typed wrong.'],
      ['AFTER CLOSING', 'The case was corrected: side LEFT; reason: right the first time.'],
    ]);
  });

  it('opens no hold any more, and nothing is said to have been left unanswered', () => {
    expect(papers.state.holds).toEqual([]);
    expect(papers.value('holds', 'holds-standing')).toBe('no hold stood open when the case was closed');
  });
});

describe('one screw listed under two numbers', () => {
  it('is one again once the second listing is struck; both listings stay in the timeline', () => {
    const story = begun(2);
    const second = story.entries.find((one) => one.type === 'screw-listed' && one.screw === '2')?.n as number;
    ended(turnedOut(story).tell('10:20', { type: 'struck', entry: second, reason: 'the same screw as 1' }));
    const papers = papersOf(story.entries);
    expect(Object.keys(papers.state.screws)).toEqual(['1']);
    expect(papers.value('operation', 'procedure')).toContain('1 of 1 listed screw out');
    expect(papers.patient).toContain('all of the metal on the list is out');
    expect(papers.rows.find(({ n }) => n === second)?.marks).toEqual([
      expect.stringMatching(/^STRUCK by entry \d+ \(the same screw as 1\)$/),
    ]);
  });

  it('is not told of as if it had stayed, as long as nobody says which', () => {
    const papers = papersOf(ended(turnedOut(begun(2))).entries);
    expect(papers.state.screws['2']?.metal.closes).toBe('open');
    expect(papers.patient).toContain('It was not written down if screw 2 is out or still in');
    expect(papers.patient).not.toMatch(/screw 2 is still in/i);
  });
});

describe('a tourniquet let down that by the log never was up', () => {
  it('is in the note with its entry, and no minutes are made up for it', () => {
    const story = begun().tell('10:06', { type: 'tourniquet', to: 'down' });
    const { n } = story;
    const papers = papersOf(ended(turnedOut(story)).entries);
    expect(papers.value('operation', 'tourniquet')).toBe(
      `from the log: let down 10:06:00 (entry ${n}): that it was up then is not in the log`,
    );
    expect(papers.state.clocks.tourniquetTotalMinutes).toBe(0);
  });
});

describe('a tip of a tool on the table before that tool broke', () => {
  const tip = { type: 'piece-recovered', tool: 'conical-extractor', length: 6, lengthHow: 'measured' } as const;

  it('is not the tip that broke off after it', () => {
    const story = begun().tell('10:08', { ...tip, complete: true });
    const papers = papersOf(broken(story).entries);
    expect(papers.state.toolTips).toMatchObject([{ closes: 'open', recovered: 0 }]);
    expect(papers.state.holds).toContain('find-tip');
  });

  it('is it where the breaking was only told after it', () => {
    const story = begun().tell('10:20', { ...tip, complete: true });
    story
      .tell(
        '10:30',
        { type: 'move-started', screw: '1', move: 'conical-extractor', tool: 'conical-extractor' },
        '10:14',
      )
      .ends('10:30', '1', 'tool-broke', {}, '10:15');
    expect(papersOf(story.entries).state.toolTips).toMatchObject([{ closes: 'assumed', recovered: 6 }]);
  });
});

describe('two plates, of which one is off', () => {
  const story = begun(2)
    .tell('10:06', { type: 'part-listed', part: 'plate-2', kind: 'plate' })
    .begins('10:10', '1', 'drill-head-off')
    .ends('10:12', '1', 'head-sheared')
    .tell('10:15', { type: 'plate-off', part: 'plate-2' });
  const papers = papersOf(story.entries);

  it('opens no shank under the other one', () => {
    expect(papers.state.screws['1']?.withdrawn.find(({ move }) => move === 'grip-shank')?.why).toBe('plate-on');
  });

  it('is named where its hold was passed, and neither is said to be out', () => {
    expect(papers.value('holds', 'holds-unanswered')).toBe(
      `"What still holds it?" at entry ${story.n} (10:15:00): Part plate-2 was taken off the bone`,
    );
    expect(papers.patient).toContain(
      'It was not written down if the plate and part plate-2 (plate) are out or still in',
    );
  });
});

describe('a piece told of a screw that came out whole', () => {
  it('is not added to it without a word', () => {
    const piece: EntryDraft = { type: 'piece-recovered', screw: '1', length: 9, lengthHow: 'measured' };
    const papers = papersOf(ended(turnedOut(begun().tell('10:07', piece))).entries);
    expect(papers.section('metal')[0]).toContain('A PIECE WAS TOLD OF IT BESIDES: of what it is was not told');
    const alone = papersOf(ended(turnedOut(begun())).entries);
    expect(alone.section('metal')[0]).not.toContain('BESIDES');
  });
});

describe('a tool that broke on a screw, told once that screw is out', () => {
  const story = turnedOut(begun())
    .tell('10:30', { type: 'move-started', screw: '1', move: 'conical-extractor', tool: 'conical-extractor' }, '10:07')
    .ends('10:30', '1', 'tool-broke', {}, '10:08');
  const papers = papersOf(ended(story).entries);

  it('leaves the screw out, asks for the tip for ever, and says that nobody answered', () => {
    expect(papers.state.screws['1']?.stage).toBe('out');
    expect(papers.state.holds).toContain('find-tip');
    expect(papers.value('holds', 'holds-standing')).toContain(
      '"Find the missing tip": it stood when the case was closed',
    );
    expect(papers.patient).toContain(
      'The tip of a tool (conical extractor) broke off - It may still be in you, or it may be out. This is not known.',
    );
  });
});

describe('a case taken over on another tablet whose clock is 40 minutes behind', () => {
  const story = begun().tell('10:06', { type: 'tourniquet', to: 'up' }).begins('10:10', '1', 'turn-out');
  story.tell('09:32', { type: 'resumed', device: 'tablet 2', gap: 'not-known' });
  const { n } = story;
  story.ends('09:34', '1', 'out', whole).tell('09:40', { type: 'tourniquet', to: 'down' });
  const papers = papersOf(story.tell('09:45', { type: 'work-ended' }).entries);

  it('keeps the order in which it was told; spans across it are not known, and none is impossible', () => {
    expect(papers.state.screws['1']?.stage).toBe('out');
    expect(papers.state.impossibleTimes).toEqual([]);
    expect(papers.value('operation', 'tourniquet')).toContain('± not known');
  });

  it('says from which entry on the times are those of the other clock', () => {
    expect(papers.value('times', 'clock')).toContain(
      `from entry ${n} on that of tablet 2; whether the two agree was not confirmed`,
    );
  });
});

describe('somebody else at the tablet while a move runs', () => {
  it('ends no move, and names each from when on, and nobody for the move', () => {
    const story = begun().tell('10:06', { type: 'at-tablet', role: 'circulating', who: 'KM' });
    story.begins('10:10', '1', 'turn-out').tell('10:11', { type: 'at-tablet', role: 'circulating', who: 'PL' });
    const papers = papersOf(ended(story.ends('10:12', '1', 'out', whole)).entries);
    expect(papers.value('team', 'at-tablet')).toBe(
      'since 10:06:00: KM (circulating nurse); since 10:11:00: PL (circulating nurse)',
    );
    expect(papers.state.screws['1']?.stage).toBe('out');
    expect(papers.text).not.toMatch(/(called|entered) by the circulating/);
  });
});

describe('a case closed without a word that the work has ended', () => {
  const story = turnedOut(begun(2)).tell('10:50', { type: 'case-closed' });
  const papers = papersOf(story.entries);

  it('leaves what nobody spoke of open: neither out nor in as if somebody had seen it', () => {
    expect(papers.state.screws['2']?.metal.closes).toBe('open');
    expect(papers.state.parts['plate']?.closes).toBe('open');
    expect(papers.text).toContain('Screw 2: whether it is out or stays was not told; last known: seated');
    expect(papers.patient).toContain('It was not written down if screw 2 is out or still in');
    expect(papers.patient).toContain('No count of the metal was written down.');
    for (const paper of [papers.text, papers.brief, papers.patient, papers.stillIn])
      expect(paper).not.toMatch(/the whole screw|(?<!if )screw 2 is still in/i);
  });

  it('says the same in German', () => {
    const german = papersOf(story.entries, 'de');
    expect(german.text).toContain('ob sie draußen ist oder bleibt, wurde nicht gesagt; zuletzt bekannt: sie sitzt');
    expect(german.patient).toContain('Niemand hat notiert, ob Schraube 2 noch drin ist');
  });

  it('tells a patient that metal may still be in, not that it is', () => {
    expect(papers.patient).toContain('metal that may still be in the LEFT tibia');
    const left = turnedOut(begun(2)).tell('10:30', {
      ...({ type: 'left-in', screw: '2', length: null, where: 'far wall', reason: 'too deep' } as const),
    });
    expect(papersOf(left.entries).patient).toContain('metal that is still, or may be, in the LEFT tibia');
  });
});

describe('a plate levered out over screws that nobody spoke of', () => {
  const lever = { type: 'part-move', part: 'plate', move: 'lever-plate', outcome: 'out' } as const;
  const story = begun(2).tell('10:09', lever).tell('10:45', { type: 'work-ended' });
  const papers = papersOf(story.entries);

  it('has them neither with it nor in the bone', () => {
    expect(papers.value('operation', 'implants')).toBe('from the log: taken out: the plate');
    expect(papers.text).toContain('Screw 1: whether it is out or stays was not told; last known: seated');
    for (const paper of [papers.text, papers.brief, papers.stillIn]) expect(paper).not.toContain('the whole screw');
  });

  it('names what was done where its hold was passed', () => {
    expect(papers.value('holds', 'holds-unanswered')).toContain('On the plate, levering off the plate; it came out');
  });
});

describe('holds', () => {
  const looked = (story: Story) =>
    story
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'slipped')
      .tell('10:13', { type: 'reassessed', screw: '1', checks: {} });
  const farWall = { type: 'hold-answered', hold: 'far-wall', screw: '1' } as const;

  it('that were heeded name what was begun then, those that were passed say so', () => {
    const story = looked(begun()).tell('10:14', { ...farWall, answer: 'heeded' });
    story.begins('10:15', '1', 'grip-head').ends('10:16', '1', 'no-change');
    const { n } = story;
    story.tell('10:17', { ...farWall, answer: 'go-on', reason: 'corridor seen', onWordOf: 'R. Invented' });
    const told = papersOf(story.entries).value('holds', 'holds-answered');
    expect(told).toContain(`heeded; next on screw 1: gripping the head from outside (entry ${n - 1})`);
    expect(told).toContain('passed ("go on"); on the word of R. Invented; reason: corridor seen');
  });

  it('that were heeded with nothing begun after them say that', () => {
    const papers = papersOf(looked(begun()).tell('10:14', { ...farWall, answer: 'heeded' }).entries);
    expect(papers.value('holds', 'holds-answered')).toContain('heeded, and no move began on screw 1 after it');
    const german = papersOf(looked(begun()).tell('10:14', { ...farWall, answer: 'heeded' }).entries, 'de');
    expect(german.value('holds', 'holds-answered')).toContain('befolgt, danach begann an Schraube 1 kein Schritt');
  });

  it('that stood when the app died and when the case was closed were never answered', () => {
    const story = begun().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'slipped');
    const open = papersOf(story.entries);
    expect(open.value('holds', 'holds-standing')).toBe('"Stop turning and look again" on screw 1');
    story.tell('10:40', { type: 'resumed', device: 'tablet 1', gap: 'known' }).tell('10:50', { type: 'case-closed' });
    const papers = papersOf(story.entries);
    expect(papers.value('holds', 'holds-standing')).toBe(
      `"Stop turning and look again" on screw 1: it stood when the case was closed (entry ${story.n}), and nobody answered`,
    );
    expect(papers.value('holds', 'holds-unanswered')).toBe(
      `"Account for the metal" at entry ${story.n} (10:50:00): The case was closed`,
    );
    expect(papers.value('holds', 'holds-answered')).toBe('no answer is in the log');
  });
});

describe('a screw put off that nobody took up again', () => {
  it('was interrupted, tried no more, and is told of as not told', () => {
    const story = begun(2).begins('10:07', '2', 'turn-out').tell('10:08', { type: 'deferred', screw: '2' });
    const papers = papersOf(ended(turnedOut(story)).entries);
    expect(papers.text).toMatch(/ended 10:08:00 \(1 min\): interrupted, entry \d+/);
    expect(papers.text).toContain('Screw 2: whether it is out or stays was not told; last known: seated');
    expect(papers.state.screws['2']).toMatchObject({ stage: 'seated', slips: 0, metal: { closes: 'open' } });
  });
});

describe('a count passed with something missing', () => {
  const counted = (more: { decidedBy?: string }) =>
    papersOf(
      turnedOut(begun(2))
        .tell('10:45', { type: 'work-ended' })
        .tell('10:47', {
          type: 'count-answered',
          by: ['surgeon', 'scrub'],
          image: 'clear',
          discrepancy: '7 mm',
          ...more,
        }).entries,
    );

  it('names who decided, where somebody said so, and else that it was not recorded', () => {
    expect(counted({ decidedBy: 'R. Invented' }).value('metal', 'counts')).toContain('decided by: R. Invented');
    expect(counted({}).value('metal', 'counts')).toContain('decided by: not recorded');
    expect(counted({ decidedBy: 'R. Invented' }).rows.at(-1)?.sentence).toContain('decided by R. Invented');
  });

  it('and one that adds up asks nobody', () => {
    expect(papersOf(ended(turnedOut(begun())).entries).value('metal', 'counts')).not.toContain('decided by');
  });
});

describe('a head and a stop of the work', () => {
  it('are told in one sentence each, in both languages', () => {
    const story = begun(2).begins('10:10', '1', 'drill-head-off').ends('10:12', '1', 'head-sheared');
    story.tell('10:13', { type: 'move-answered', of: story.n, head: 'in-plate' });
    story.tell('10:14', { type: 'stopped' }).tell('10:15', { type: 'stopped', reason: 'bleeding' });
    const told = (language: 'en' | 'de') =>
      papersOf(story.entries, language)
        .rows.slice(-3)
        .map(({ sentence }) => sentence);
    expect(told('en')).toEqual([
      `Of the move in entry ${story.n - 3} it was said: the head was in the plate.`,
      'The work was stopped.',
      'Why the work was stopped was said; reason: bleeding.',
    ]);
    expect(told('de').slice(1)).toEqual([
      'Die Arbeit wurde abgebrochen.',
      'Warum die Arbeit abgebrochen wurde, ist gesagt; Grund: Blutung.',
    ]);
    expect(told('de')[0]).toContain('der Kopf steckte in der Platte');
  });
});

describe('a screw of which nobody knows the thread', () => {
  it('says so in every paper, opens nothing that a thread opens, and is turned out like any other', () => {
    const story = new Story().opened('10:00', next).screw('10:01', '1', { thread: null });
    story.room('10:02').tell('10:05', { type: 'work-started' });
    const offered = papersOf(story.entries).state.screws['1']?.offered.map(({ move }) => move);
    expect(offered).toContain('turn-out');
    expect(offered).not.toContain('open-near-cortex');
    const papers = papersOf(ended(turnedOut(story)).entries);
    expect(papers.text).toContain('4.5 mm, thread not known, not locking');
    expect(papers.text).not.toMatch(/cortical thread|cancellous thread/);
    expect(papersOf(story.entries, 'de').text).toContain('Gewinde nicht bekannt, 4,5 mm');
  });
});
