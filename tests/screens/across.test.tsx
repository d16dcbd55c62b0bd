/** The department's own numbers on screen: words before per cents, a table behind each line, CSV out. */
import 'fake-indexeddb/auto';
import { cleanup, render, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { currentVersion } from '../../content/releases/index.ts';
import { sealAll } from '../../machines/seal.ts';
import { Across } from '../../src/screens/Across.tsx';
import { IntervalBar } from '../../src/screens/across/IntervalBar.tsx';
import { minutesWords } from '../../src/screens/across/words.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { department } from '../../src/session/department.ts';
import * as share from '../../src/device/share.ts';
import { everything, overlayWith } from '../content/overlays.ts';
import { Log, atTheTable } from '../machines/build.ts';
import { opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(() => steadyFingers());
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
const finished = (label: string, end: 'out' | 'slipped') =>
  closed(atTheTable({}, { label }).tries('1', 'turn-out', end));

async function withCases(logs: Log[], demo = false) {
  const here = await room(Across);
  for (const log of logs) await here.app.session.bringIn(currentVersion, sealAll(log.entries), demo);
  return here;
}
const nine = () => Array.from({ length: 9 }, (_, i) => finished(`case ${i}`, i < 7 ? 'out' : 'slipped'));

describe('the screen across cases', () => {
  it('says that there is nothing yet, and how it comes', async () => {
    await room(Across);
    await screen.findByText(/No closed case on this device yet/);
    expect(screen.queryByRole('table')).toBeNull();
  });

  it('gives a move as "7 of 9 out", as few, with the interval spoken and drawn', async () => {
    await withCases(nine());
    await screen.findByText('9 cases counted');
    const line = await screen.findByRole('button', { name: /Turn it out/ });
    expect(line.textContent).toContain('7 of 9 out');
    expect(line.textContent).toContain('few');
    // Wilson, 95 %: 0.4526 to 0.9368, from the score equation by hand.
    expect(within(line).getByRole('img').getAttribute('aria-label')).toMatch(/7 of 9, 78\s%, 95 in 100 between 45\s%/);
    expect(within(line).getByRole('img').getAttribute('aria-label')).toMatch(/and 94\s%/);
  });

  it('has the table behind it one touch away, with what slipped and how it ended', async () => {
    const { touch } = await withCases(nine());
    await screen.findByText('9 cases counted');
    await touch(/Turn it out/);
    const table = await screen.findByRole('table');
    const kind = within(table).getByRole('row', { name: /4\.5\smm, not locking, steel/ });
    expect(kind.textContent).toContain('2 of 9');
    expect(screen.getByText(/How they ended: out 7, slipped 2/)).toBeTruthy();
    await touch('All moves');
    expect(screen.queryByRole('table')).toBeNull();
  });

  it('tells what stayed in, dead ends and tools, holds, rates: a page each', async () => {
    const bare = new Log().opened().screw('1').room('driver-hexagonal').start();
    const left = closed(
      bare.tries('1', 'turn-out', 'shank-broke', { reachable: false }).leaves('1', { reason: 'too deep to reach' }),
    );
    const { touch } = await withCases([left]);
    await screen.findByText('1 case counted');
    await touch('What stayed in');
    await screen.findByText(w('across.so-many-of', { count: 1, of: 1 }));
    await touch(w('across.tables'));
    await screen.findByRole('row', { name: /Broken deep.*too deep to reach.*1/ });
    await touch('Dead ends, tools');
    await screen.findByRole('heading', { name: w('across.was-missing') });
    await touch(w('across.tables'));
    await screen.findByRole('row', { name: /Broken deep.*hollow reamer/ });
    await touch('Rates');
    await screen.findByRole('row', { name: /Turn it out.*shank broke.*1\s%.*1 of 1.*21\s%/ });
    await touch('Holds');
    await screen.findByRole('row', { name: /Account for the metal.*no word 1.*1/ });
  });

  it('leaves invented cases out and says so; counts them in when asked, and says so', async () => {
    const { touch } = await withCases([finished('a', 'out')], true);
    await screen.findByText(/1 INVENTED/);
    expect(screen.getByText('0 cases counted')).toBeTruthy();
    await touch('Count invented cases too');
    await screen.findByText('INVENTED cases are counted in');
    expect(screen.getByText('1 case counted')).toBeTruthy();
  });

  it('stands in the order of the department’s content in use, in its words', async () => {
    const own = department();
    const file = overlayWith(everything);
    expect([own.keep(file).ok, own.use(file.version).ok]).toEqual([true, true]);
    try {
      const log = closed(
        atTheTable({}, { label: 'a' }).tries('1', 'turn-out', 'no-change').tries('1', 'reseat-driver', 'out'),
      );
      const here = await room(Across, { more: { content: own.content } });
      await here.app.session.bringIn(currentVersion, sealAll(log.entries), false);
      await screen.findByText('1 case counted');
      const lines = () => [...document.querySelectorAll('.across-move')].map((line) => line.textContent);
      await waitFor(() => expect(lines()).toHaveLength(2));
      expect(lines()[1]).toBe('Turn it out');
      own.use(null);
      await waitFor(() => expect(lines()[0]).toBe('Turn it out'));
    } finally {
      own.use(null);
    }
  });

  it('hands the CSV of what is shown to the downloads', async () => {
    const handed = vi.spyOn(share, 'download').mockReturnValue({ ok: true });
    const { touch } = await withCases([finished('a', 'out')]);
    await screen.findByText('1 case counted');
    await touch('Save as CSV');
    const file = handed.mock.calls[0]?.[0];
    expect(file?.name).toBe('counterturn-across.csv');
    expect(file?.content).toContain('moves,seated,turn-out,,,,out,,1,1,');
    await screen.findByRole('button', { name: /Handed to the downloads/ });
  });

  it('has no word that weighs one move against another', async () => {
    const { touch } = await withCases(nine());
    await screen.findByText('9 cases counted');
    for (const page of ['Moves', 'What stayed in', 'Dead ends, tools', 'Holds', 'Rates']) {
      await touch(page);
      expect(document.body.textContent).not.toMatch(
        /recommend|best|better|success|alarm|alert|monitor|\bsafe|cleared/i,
      );
    }
  });
});

describe('a bar', () => {
  it('has no line when there was nothing to count', () => {
    render(() => <IntervalBar share={{ count: 0, of: 0, low: null, high: null }} w={w} />);
    expect(screen.getByRole('img', { name: 'nothing to count' }).querySelector('.interval-range')).toBeNull();
  });
});

describe('minutes in words', () => {
  it('have a middle half from four on', () => {
    expect(minutesWords(w, { n: 3, q1: 1, median: 2.04, q3: 9 })).toBe('2 min (3 timed)');
    expect(minutesWords(w, { n: 4, q1: 1.26, median: 2, q3: 12.6 })).toBe('2 min, half of them 1.3–13');
  });
});

describe('the cards at the table', () => {
  const drafts = [
    opening,
    { type: 'screw-listed', screw: '1', diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' },
  ] as const;
  const plan = () =>
    [
      drafts[0],
      { ...drafts[1], material: 'steel', length: 36, cortices: 2 },
      { type: 'tool-in-room', tool: 'driver-hexagonal', present: true },
      { type: 'work-started' },
      { type: 'screw-called', screw: '1' },
    ] as never;

  it('say "here: 7 of 9" where the move is told of, and where it comes from', async () => {
    const { app, touch } = await room(Table, { drafts: plan() });
    for (const log of nine()) await app.session.bringIn(currentVersion, sealAll(log.entries));
    expect(document.body.textContent).not.toContain('here:');
    await touch(app.w('table.about-moves'));
    await screen.findByRole('button', { name: /Turn it out.*here: 7\sof\s9/ });
    await touch(/here: 7\sof\s9/);
    await screen.findByText(/On this device: 7 of 9 at this stage .* between 45\s% and 94\s%\. 9 cases counted/);
  });

  it('say nothing of it while the department has no case of its own', async () => {
    const { app, touch } = await room(Table, { drafts: plan() });
    await touch(app.w('table.about-moves'));
    await screen.findByRole('button', { name: /Turn it out/ });
    expect(document.body.textContent).not.toContain('here:');
  });
});
