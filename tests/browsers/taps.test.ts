/** Scripted second taps: bounces, and fingers that come down where the layout has just changed. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { quietMs } from '../../src/parts/tap-guard.ts';
import { launchChromium, startServer, type ChromiumEngine } from './harness.ts';
import { playerOn, type Player, type Stored } from './player.ts';
import { patienceMs, quietTime } from './rest.ts';

interface Point {
  x: number;
  y: number;
}
/** What a finger met, on the page's own clock, ms. */
interface Tap {
  down: number;
  up: number;
  on: string;
  closed: boolean;
}
type Landed = [first: Tap, second: Tap];

/** What a slow disk adds to every write, ms. */
const slowDisk = 250;
/** Tries of each kind; `TAPS=100` for more. */
const pairs = Number(process.env.TAPS ?? 20);
/** A busy machine makes waiting longer, and may bring a second tap too late: that many are tried again. */
const patience = { timeout: 600_000, late: 20 };

let server: Awaited<ReturnType<typeof startServer>>;
let engine: ChromiumEngine | null;
let nurse: Player;
let entries: Stored[] = [];

beforeAll(async () => {
  server = await startServer();
  engine = await launchChromium();
  if (!engine) return;
  await engine.page.addInitScript(watchTaps);
  await engine.open(server.url);
  nurse = playerOn(engine.page);
  await nurse.beginDemo();
});
afterAll(async () => {
  await engine?.close();
  await server?.close();
});

/** Runs in the page before the app: writes down every tap and what it met, and can make the disk slow. */
function watchTaps(): void {
  const taps: Tap[] = [];
  const kept = { taps, slowDisk: 0 };
  Object.assign(globalThis, { kept });
  const complete = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, 'oncomplete') as PropertyDescriptor;
  Object.defineProperty(IDBTransaction.prototype, 'oncomplete', {
    ...complete,
    set(this: IDBTransaction, handler: (event: Event) => void) {
      const late = (event: Event) => void setTimeout(() => handler.call(this, event), kept.slowDisk);
      complete.set?.call(this, late);
    },
  });
  addEventListener(
    'pointerdown',
    (event) => {
      const button = (event.target as Element).closest('button');
      const on = button?.getAttribute('aria-label') ?? button?.innerText.replaceAll('\n', ' ') ?? '';
      taps.push({ down: event.timeStamp, up: NaN, on, closed: button?.ariaDisabled === 'true' });
    },
    true,
  );
  addEventListener('pointerup', (event) => void (taps.at(-1)!.up = event.timeStamp), true);
}

const page = () => (engine as ChromiumEngine).page;
const tap = ({ x, y }: Point) => page().touchscreen.tap(x, y);
/** The try'th of so many even steps from `from` to `to`. */
const spread = (i: number, from: number, to: number) => from + ((to - from) * i) / (pairs - 1);

/** The middle of a touch, or a point at that share of its height. */
async function middle(name: RegExp, share = 0.5): Promise<Point> {
  const box = await page().getByRole('button', { name }).first().boundingBox();
  if (!box) throw new Error(`"${String(name)}" has no place on the screen`);
  return { x: box.x + box.width / 2, y: box.y + box.height * share };
}

/** The entries that came since the last look. */
async function news(): Promise<string[]> {
  const before = entries.length;
  entries = await nurse.stored();
  return entries.slice(before).map(({ type }) => type);
}

/**
 * Two taps, the second `later` ms after the first, or after what `until` waits for. Gives what both met and the types
 * of the entries they made. The time between the two is what is tried, so it is passed and not waited for.
 */
async function twoTaps(first: Point, second: Point, later: number, until?: () => Promise<unknown>) {
  await page().evaluate('kept.taps.length = 0');
  await tap(first);
  await until?.();
  await new Promise((pass) => setTimeout(pass, later));
  await tap(second);
  await quietTime(page());
  const landed = await page().evaluate<Landed>('kept.taps');
  expect(landed).toHaveLength(2);
  return [landed, await news()] as const;
}

describe('second taps in Chromium', () => {
  it('count when they come after the quiet time: the tries below would be seen', async (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    const someone = await middle(/^Call someone/);
    await news();
    await quietTime(page());
    const [, two] = await twoTaps(someone, someone, 0, () => quietTime(page()));
    await quietTime(page());
    expect([...two, ...(await news())]).toEqual(['colleague-called', 'colleague-called']);
  });

  it(
    `make one entry with the first, within 400 ms, ${pairs} times [Z6]`,
    { timeout: patience.timeout },
    async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      const places = { call: await middle(/^Call someone/), back: await middle(/^Take back/) };
      const names = { call: 'Call someone', back: 'Take back' };
      const makes = { call: 'colleague-called', back: 'struck' };
      const turns = [
        ['call', 'call'],
        ['back', 'back'],
        ['call', 'back'],
        ['back', 'call'],
      ] as const;
      const gaps: number[] = [];
      let late = 0;
      while (gaps.length < pairs) {
        const [first, second] = turns[gaps.length % turns.length]!;
        const later = spread(gaps.length, 35, 290);
        const [landed, made] = await twoTaps(places[first], places[second], later);
        const gap = landed[1].up - landed[0].up;
        expect(landed[0].on).toContain(names[first]);
        expect(landed[1].on).toContain(names[second]);
        if (gap < quietMs) {
          expect(made, `${first}, ${second} after ${gap} ms`).toEqual([makes[first]]);
          gaps.push(gap);
        } else if (++late > patience.late) throw new Error('this machine is too slow for double taps');
        else await makeReady(first, places.call);
      }
      console.log(
        `${gaps.length} double taps ${Math.min(...gaps).toFixed(0)} to ${Math.max(...gaps).toFixed(0)} ms apart, ${gaps.length} entries; ${late} came too late to be tries`,
      );
    },
  );

  /** After a tap that came too late: there has to be an entry that can be taken back. */
  async function makeReady(first: 'call' | 'back', someone: Point): Promise<void> {
    await quietTime(page());
    if (first === 'back') await tap(someone);
    await quietTime(page());
    await news();
  }

  it(
    `make no entry where the layout has just changed, ${pairs} times [Z7]`,
    { timeout: patience.timeout },
    async (test) => {
      if (!engine) return test.skip('Chromium: not on this machine');
      const back = await middle(/^Take back/);
      let screw = 0;
      let card: Point = back;
      /** The next screw, from the start; with `running` its move is under way. */
      const fresh = async (running: boolean) => {
        await nurse.call(String(++screw));
        await page()
          .getByRole('heading', { name: `Screw ${screw}: seated` })
          .waitFor();
        await quietTime(page());
        // Two cards are as high as four: the upper half of the first is the place of the first answer.
        card = await middle(/Turn it out/, 0.25);
        if (running) {
          await nurse.touch(/Turn it out/);
          await expect.poll(() => under(card), { timeout: patienceMs }).toMatch(/No change/);
          card = await middle(/It is out/);
        }
        await quietTime(page());
        await news();
      };
      // Both taps fall on the card's place, or the first takes back and the second falls on the card that comes up.
      const kinds = [
        [
          { first: () => card, makes: 'move-started', from: /Turn it out/, to: /No change/ },
          { first: () => back, makes: 'struck', from: /No change/, to: /Turn it out/ },
        ],
        [
          { first: () => card, makes: 'move-ended', from: /It is out/, to: /Measured whole/ },
          { first: () => back, makes: 'struck', from: /Measured whole/, to: /It is out/ },
        ],
      ] as const;
      const lags: number[] = [];
      let [late, layoutOnly] = [0, 0];
      for (const half of [0, 1] as const) {
        await fresh(half === 1);
        while (lags.length < (pairs / 2) * (half + 1)) {
          const { first, makes, from, to } = kinds[half][lags.length % 2 === 0 ? 0 : 1];
          expect(await under(card), 'the card before').toMatch(from);
          const cameUp = await watch(card, to);
          let changed = NaN;
          // On a slow disk the change comes so late that only the change itself keeps the second tap out.
          const slow = lags.length % 4 >= 2;
          await page().evaluate(`kept.slowDisk = ${slow ? slowDisk : 0}`);
          const later = spread(lags.length % (pairs / 2), slow ? 160 : 0, slow ? 420 : 580);
          const [[one, two], made] = await twoTaps(first(), card, later, async () => (changed = await cameUp()));
          expect(two.on).toMatch(to);
          expect(two.closed).toBe(false);
          const lag = two.down - changed;
          // The watch hears of the change a little after the app does.
          if (lag < quietMs - 10) {
            expect(made, `${two.on}, ${lag} ms after it came up, ${two.up - one.up} ms after the first tap`).toEqual([
              makes,
            ]);
            if (two.up - one.up >= quietMs) layoutOnly += 1;
            lags.push(lag);
          } else if (++late > patience.late) throw new Error('this machine is too slow for taps after a change');
          else {
            if (lags.length % 2) lags.pop();
            await fresh(half === 1);
          }
        }
      }
      expect(layoutOnly).toBeGreaterThanOrEqual(pairs / 4);
      console.log(
        `${lags.length} taps ${Math.min(...lags).toFixed(0)} to ${Math.max(...lags).toFixed(0)} ms after a change of layout, none made an entry, ${layoutOnly} of them beyond the time of a bounce; ${late} came too late to be tries`,
      );
    },
  );

  /** The words of the touch under a point. */
  const under = ({ x, y }: Point) =>
    page().evaluate(([left, top]) => document.elementFromPoint(left, top)?.closest('button')?.innerText ?? '', [
      x,
      y,
    ] as const);

  /** Sets a watch on a point; the watch gives when a touch with these words came up there, ms on the page's clock. */
  const watch = async ({ x, y }: Point, words: RegExp) => {
    await page().evaluate(
      ([left, top, source, patience]) => {
        const there = () => document.elementFromPoint(left, top)?.closest('button')?.innerText ?? '';
        const cameUp = new Promise<number>((done, fail) => {
          const observer = new MutationObserver(() => {
            const now = performance.now();
            if (!new RegExp(source).test(there())) return;
            observer.disconnect();
            done(now);
          });
          observer.observe(document.body, { childList: true, subtree: true, characterData: true });
          setTimeout(() => fail(new Error(`${source} did not come up; there is: ${there()}`)), patience);
        });
        // Awaited later: until then a failure must not count as one nobody looks at.
        cameUp.catch(() => undefined);
        Object.assign(globalThis, { cameUp });
      },
      [x, y, words.source, patienceMs] as const,
    );
    return () => page().evaluate<number>('cameUp');
  };

  it('leave a log without a hole', (test) => {
    if (!engine) return test.skip('Chromium: not on this machine');
    expect(entries.map(({ n }) => n)).toEqual(entries.map((_, i) => i + 1));
  });
});
