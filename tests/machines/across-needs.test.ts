/** What dead ends need, by tool and size: what is named opens them, as readiness itself says with the tools brought in. */
import { describe, expect, it } from 'vitest';
import { workingStages, type ToolId } from '../../content/ids.ts';
import { inRoom, needsOf, sizedFor } from '../../machines/across/needs.ts';
import { through } from '../../machines/compute/through.ts';
import { readiness } from '../../machines/readiness.ts';
import type { ScrewFacts } from '../../machines/screw.context.ts';
import { toolIds } from '../ids.ts';
import { times } from '../lengths.ts';
import { seeded } from '../seeded.ts';
import { second } from './ladder-2/build.ts';
import { Log, content } from './build.ts';

const needs = (log: Log) => through(needsOf(log.folded));
const fits: readonly ToolId[] = ['hard-metal-drill', 'reverse-tap', 'hollow-reamer', 'extraction-sleeve'];

/** A plan of one to three screws, of one size or of several, and some tools. */
function randomPlan(random: () => number, ladder: 1 | 2): Log {
  const pick = <T>(options: readonly T[]) => options[Math.floor(random() * options.length)] as T;
  const log = new Log(undefined, ladder === 2 ? second : content).opened({
    construct: pick(['plate', 'plate', 'nail', 'screws'] as const),
  });
  const count = 1 + Math.floor(random() * 3);
  const same = random() < 0.4 ? pick([3.5, 5]) : null;
  for (let screw = 1; screw <= count; screw++) {
    const diameter = same ?? pick([3.5, 5]);
    const drive = pick(['hexagonal', 'hexalobular', 'cruciform', 'unknown'] as const);
    const size = { hexagonal: diameter === 5 ? 3.5 : 2.5, hexalobular: diameter === 5 ? 25 : 15 };
    log.screw(String(screw), {
      ...{ diameter, drive, locking: random() < 0.5, stage: pick(workingStages) },
      ...((drive === 'hexagonal' || drive === 'hexalobular') && random() < 0.8 && { driveSize: size[drive] }),
    });
  }
  const density = random() * 0.5;
  for (const tool of toolIds)
    if (random() < density) {
      const told = random() < 0.8;
      const size =
        tool === 'driver-hexagonal' ? pick([2.5, 3.5]) : tool === 'driver-hexalobular' ? pick([15, 25]) : null;
      log.tool(tool, told ? { ...(fits.includes(tool) && { fits: [pick([3.5, 5])] }), ...(size && { size }) } : {});
    }
  return log;
}

describe('what a dead end needs', () => {
  it.each([1, 2] as const)(
    'opens it once it is in the room, and without any one of it does not: random plans of ladder %i',
    (ladder) => {
      const random = seeded(4000 + ladder);
      const seen = { open: 0, unsaid: 0, mixed: 0 };
      for (let i = 0; i < times(60); i++) {
        const log = randomPlan(random, ladder);
        const before = readiness(log.folded);
        const { open, cannotSay, closed } = needs(log);
        const key = ({ screw, stage }: { screw: string; stage: string }) => `${screw} ${stage}`;
        // Each dead end once, and each stage of which nobody can say.
        expect([...open, ...cannotSay, ...closed].map(key).sort()).toEqual(
          [...before.deadEnds, ...before.cannotSay].map(key).sort(),
        );
        const without = (items: readonly Parameters<typeof inRoom>[0][]) => {
          const more = log.fork();
          for (const item of items) more.tool(item.tool, inRoom(item));
          return readiness(more.folded);
        };
        const isOpen = (ready: ReturnType<typeof readiness>, one: { screw: string; stage: string }) =>
          ![...ready.deadEnds, ...ready.cannotSay].some((other) => key(other) === key(one));
        for (const need of open) {
          const set = need.sets[Math.floor(random() * need.sets.length)] ?? [];
          expect(set.length).toBeGreaterThan(0);
          expect(isOpen(without(set), need), `plan ${i}: ${key(need)} by ${JSON.stringify(set)}`).toBe(true);
          const dropped = set[Math.floor(random() * set.length)];
          const left = set.filter((one) => one !== dropped);
          if (left.length > 0) expect(isOpen(without(left), need), `plan ${i}: ${key(need)} by less`).toBe(false);
          seen.open++;
          if (new Set(set.map(({ size }) => size)).size > 1) seen.mixed++;
        }
        seen.unsaid += cannotSay.length;
      }
      expect(seen.open).toBeGreaterThan(60);
      expect(seen.unsaid).toBeGreaterThan(5);
      expect(seen.mixed).toBeGreaterThan(5);
    },
    120_000,
  );

  it('is a size of the screw’s own where the tool has one', () => {
    const bare = new Log().opened().screw('1', { diameter: 5, driveSize: 3.5, stage: 'fragment-retained' });
    const [need] = needs(bare).open;
    expect(need?.sets).toContainEqual([
      { tool: 'hollow-reamer', size: 5 },
      { tool: 'reversing-drive', size: null },
    ]);
  });

  it('cannot be said where the size that would do is not known, with what would have to be', () => {
    const unseen = new Log()
      .opened({ construct: 'screws' })
      .screw('1', { drive: 'hexagonal' })
      .room(...toolIds.slice(4));
    expect(needs(unseen)).toMatchObject({ open: [], closed: [] });
    expect(needs(unseen).cannotSay).toContainEqual({ screw: '1', stage: 'seated', unknown: ['drive-size'] });
    const any = new Log().opened({ construct: 'screws' }).screw('1', { drive: 'unknown' });
    expect(needs(any).cannotSay).toContainEqual({ screw: '1', stage: 'seated', unknown: ['drive'] });
  });
});

describe('a tool in a size', () => {
  const facts = (more: Partial<ScrewFacts>) => ({ drive: 'hexagonal', diameter: 4.5, ...more }) as ScrewFacts;
  it.each([
    ['driver-hexagonal', { driveSize: 3.5 }, { tool: 'driver-hexagonal', size: 3.5 }],
    ['driver-hexagonal', {}, 'drive-size'],
    ['driver-hexalobular', { driveSize: 3.5 }, 'drive-size'],
    ['driver-hexagonal', { drive: 'unknown' }, 'drive'],
    ['driver-slotted', { drive: 'slotted' }, { tool: 'driver-slotted', size: null }],
    ['reverse-tap', {}, { tool: 'reverse-tap', size: 4.5 }],
    ['extraction-sleeve', { diameter: null }, 'diameter'],
    ['gouge', { diameter: null }, { tool: 'gouge', size: null }],
  ] as const)('%s for %j is %j', (tool, more, found) => expect(sizedFor(tool, facts(more))).toEqual(found));

  it('stands in the room by its own size, or by the screws that it is for', () => {
    expect(inRoom({ tool: 'driver-hexalobular', size: 15 })).toEqual({ tool: 'driver-hexalobular', size: 15 });
    expect(inRoom({ tool: 'hollow-reamer', size: 3.5 })).toEqual({ tool: 'hollow-reamer', fits: [3.5] });
    expect(inRoom({ tool: 'gouge', size: null })).toEqual({ tool: 'gouge' });
  });
});
