/** Forecasts against outcomes, the next tool, what wore out and what own counts moved: a picture first, tables behind. */
import 'fake-indexeddb/auto';
import { cleanup, render, screen, within } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { currentVersion } from '../../content/releases/index.ts';
import type { Tenth } from '../../machines/across/lessons.ts';
import { sealAll } from '../../machines/seal.ts';
import * as share from '../../src/device/share.ts';
import { Across } from '../../src/screens/Across.tsx';
import { Bar } from '../../src/screens/across/Bar.tsx';
import { CalibrationPicture, MinutesPicture } from '../../src/screens/across/CalibrationPicture.tsx';
import { sortWords } from '../../src/screens/across/Forecasts.tsx';
import { itemWords, measureWords } from '../../src/screens/across/item-words.ts';
import { Log, atTheTable } from '../machines/build.ts';
import { content, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(() => steadyFingers());
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
const plain = (label: string, end: 'out' | 'slipped') => closed(atTheTable({}, { label }).tries('1', 'turn-out', end));
const nine = () => Array.from({ length: 9 }, (_, i) => plain(`case ${i}`, i < 7 ? 'out' : 'slipped'));
/** A sheared head, and neither a gripper nor anything to follow it with but a reamer. */
const reamed = () =>
  closed(
    new Log()
      .opened({ bone: 'femur', placedMonthsAgo: 30 })
      .screw('1', { stage: 'head-sheared', diameter: 3.5, locking: true })
      .tool('hollow-reamer', { fits: [3.5] })
      .start()
      .tries('1', 'hollow-ream', 'slipped')
      .write({ type: 'tool-damaged', tool: 'hollow-reamer', how: 'blunt', tipMissing: false })
      .leaves('1'),
  );

async function withCases(...logs: Log[]) {
  const here = await room(Across);
  for (const log of logs) await here.app.session.bringIn(currentVersion, sealAll(log.entries), false);
  await screen.findByText(logs.length === 1 ? '1 case counted' : `${logs.length} cases counted`);
  return here;
}

describe('the page of forecasts', () => {
  it('says how many came out, how many were expected, and of how many cases', async () => {
    const { touch } = await withCases(...nine());
    await touch('Forecast');
    await screen.findByText('Forecasts reckoned: 9 of 9 cases, the newest first.', {}, { timeout: 20_000 });
    expect(screen.getByText(/^7 screws were forecast and worked at: 7 came out, 6\.\d were expected\.$/)).toBeTruthy();
    expect(screen.getByText(/2 of which nobody said whether they came out/)).toBeTruthy();
    expect(screen.getByRole('img', { name: /of 90 to 100 %: 7 of 7/ })).toBeTruthy();
    expect(screen.getByRole('img', { name: /Minutes planned against minutes taken: 7 cases/ })).toBeTruthy();
  }, 60_000);

  it('has the tables behind it: tenths, sorts with few as counts alone, minutes', async () => {
    const { touch } = await withCases(reamed());
    await touch('Forecast');
    await screen.findByText(/Forecasts reckoned: 1 of 1/, {}, { timeout: 20_000 });
    await touch('Tables');
    const table = (name: string) => within(screen.getByRole('table', { name }));
    expect(
      table('By months in the body').getByRole('row', { name: /over 24 months few 0 of 1 0\.\d – –/ }),
    ).toBeTruthy();
    expect(table('By bone').getByRole('row', { name: /femur/i })).toBeTruthy();
    expect(table('By locking').getByRole('row', { name: /^locking few 0 of 1/ })).toBeTruthy();
    expect(table('By stage').getByRole('row', { name: /Head gone few/ })).toBeTruthy();
    expect(table('In groups of ten per cent of the forecast').getAllByRole('row')).toHaveLength(11);
    expect(screen.getByText(/Bands of months: common practice, no source/)).toBeTruthy();
    await touch('Picture');
    expect(screen.queryByRole('table')).toBeNull();
  }, 60_000);

  it('reckons nothing while nobody looks, and goes on where it was', async () => {
    const { touch } = await withCases(...nine());
    expect(screen.queryByText(/Forecasts reckoned/)).toBeNull();
    await touch('Forecast');
    await touch('Moves');
    await touch('Forecast');
    await screen.findByText(/Forecasts reckoned: 9 of 9/, {}, { timeout: 20_000 });
    await touch('Next tool');
    expect(screen.getByText(/Forecasts reckoned: 9 of 9/)).toBeTruthy();
  }, 60_000);

  it('is in the CSV once it was reckoned', async () => {
    const handed = vi.spyOn(share, 'download').mockReturnValue({ ok: true });
    const { touch } = await withCases(plain('a', 'out'));
    await touch('Save as CSV');
    expect(handed.mock.calls[0]?.[0].content).not.toContain('reckoned,');
    await touch('Forecast');
    await screen.findByText(/Forecasts reckoned: 1 of 1/, {}, { timeout: 20_000 });
    await touch(/Handed to the downloads/);
    expect(handed.mock.calls[1]?.[0].content).toContain('reckoned,,,,,,cases,,1,1,');
  }, 60_000);
});

describe('the page of the next tool', () => {
  it('has a line for each step, by tool and size, with what it closes', async () => {
    const { touch } = await withCases(reamed());
    await touch('Next tool');
    await screen.findByText(/Forecasts reckoned: 1 of 1/, {}, { timeout: 20_000 });
    const steps = within(screen.getByRole('list')).getAllByRole('listitem');
    expect(steps.length).toBeGreaterThan(0);
    expect(steps[0]?.textContent).toMatch(/closes \d dead ends, \d\.\d of them to be met/);
    await touch('Tables');
    expect(within(screen.getByRole('table', { name: 'One after the other' })).getAllByRole('row').length).toBe(
      steps.length + 1,
    );
    expect(screen.getByText(/Dead ends that no tool is known to open: 0/)).toBeTruthy();
    expect(document.body.textContent).not.toMatch(/recommend|best\b(?! as many)|better|safe/i);
  }, 60_000);

  it('tells apart what nobody can say, with what would have to be known', async () => {
    const log = new Log().opened({ construct: 'screws' }).screw('1', { drive: 'hexagonal' }).start();
    const { touch } = await withCases(closed(log.tries('1', 'turn-out', 'out')));
    await touch('Next tool');
    await screen.findByText(/Forecasts reckoned: 1 of 1/, {}, { timeout: 20_000 });
    expect(screen.getByText(/Cannot say: 1\./)).toBeTruthy();
    await touch('Tables');
    expect(screen.getByRole('row', { name: /The size of the recess 1/ })).toBeTruthy();
  }, 60_000);
});

describe('what wore and what moved', () => {
  it('stand as bars before the tables of their pages', async () => {
    const { touch } = await withCases(reamed());
    await touch('Dead ends, tools');
    const used = await screen.findByRole('img', { name: '1 use, slipped 1, blunt 1' });
    expect(used.querySelectorAll('.across-bar-hollow')).toHaveLength(1);
    expect(screen.getByText('for 3.5 mm')).toBeTruthy();
    await touch('Rates');
    const [moved] = await screen.findAllByRole('img', { name: /here 0 of 1; now \d+\s% \(\d+–\d+\)/ });
    expect(moved?.querySelector('.moved-before')).toBeTruthy();
  });

  it('say so where nothing was used', async () => {
    const { touch } = await withCases(plain('a', 'out'));
    await touch('Dead ends, tools');
    await screen.findByText('No drill, tap or reamer was used or damaged.');
  });
});

describe('a picture of forecasts', () => {
  const tenth = (more: Partial<Tenth>): Tenth => ({
    ...{ from: 0.8, to: 0.9, screws: 10, out: 8, expected: 8.5, forecast: 0.85, low: 0.5, high: 0.94 },
    ...more,
  });
  const drawn = (...tenths: Tenth[]) =>
    render(() => <CalibrationPicture tenths={tenths} label="picture" across="a" up="b" />).container;

  it('has a dot for each tenth with screws, at its forecast and its share, hollow where its interval misses the line', () => {
    const picture = drawn(
      tenth({}),
      tenth({ screws: 0, forecast: null, low: null, high: null }),
      tenth({ high: 0.84 }),
    );
    const dots = [...picture.querySelectorAll('circle')];
    expect(dots.map((dot) => dot.classList.contains('plot-off'))).toEqual([false, true]);
    expect(dots[0]?.getAttribute('cx')).toBe('85');
    expect(Number(dots[0]?.getAttribute('cy'))).toBeCloseTo(20, 9);
  });

  it('has larger dots for more screws', () => {
    const [few, many] = [...drawn(tenth({}), tenth({ screws: 40, out: 34 })).querySelectorAll('circle')];
    expect(Number(many?.getAttribute('r'))).toBeGreaterThan(Number(few?.getAttribute('r')));
  });

  it('has a dot for each case on a scale of whole hours', () => {
    const rows = [
      { p10: 20, p50: 60, p90: 80, taken: 30 },
      { p10: 20, p50: 60, p90: 80, taken: 90 },
    ];
    const { container } = render(() => (
      <MinutesPicture rows={rows} label="minutes" across="a" up="b" hour={(hours) => `${hours} h`} />
    ));
    const dots = [...container.querySelectorAll('circle')];
    expect(dots.map((dot) => [dot.getAttribute('cx'), dot.getAttribute('cy')])).toEqual([
      ['50', '75'],
      ['50', '25'],
    ]);
    expect(dots.map((dot) => dot.classList.contains('plot-off'))).toEqual([false, true]);
    expect(container.textContent).toContain('2 h');
  });
});

describe('words of a tool', () => {
  const app = { w, content: () => content };
  it('name its own size, or the screws that it is for', () => {
    expect(itemWords(app, { tool: 'driver-hexalobular', size: 15 })).toBe('hexalobular driver, size 15');
    expect(itemWords(app, { tool: 'hollow-reamer', size: 3.5 })).toBe('hollow reamer for 3.5 mm');
    expect(itemWords(app, { tool: 'gouge', size: null })).toBe('gouge');
  });
  it('name the measures that were entered', () => {
    expect(measureWords(app, { fits: [3.5, 5], outer: 7 })).toBe('for 3.5, 5 mm, outer 7 mm');
    expect(measureWords(app, {})).toBe('no size entered');
    expect(measureWords(app, null)).toMatch(/not told apart/);
  });
  it('name sorts of screws, and keep own words of a bone', () => {
    expect(sortWords(app, { by: 'months', value: 'to-12' })).toBe('up to 12 months');
    expect(sortWords(app, { by: 'bone', value: 'own-words' })).toMatch(/own words/);
  });
  it('draw a bar of no share as none', () => {
    const { container } = render(() => <Bar parts={[{ share: 0 }, { share: 0.5, hollow: true }]} label="bar" />);
    expect([...container.querySelectorAll('rect')].map((one) => one.getAttribute('width'))).toEqual(['0', '50']);
  });
});
