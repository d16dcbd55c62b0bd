import { hazardsOf } from '../../content/hazards.ts';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { checkContent } from '../../content/check.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Fault } from '../../content/shape.ts';
import type { Content } from '../../content/types.ts';

const at = <T>(list: T[], index: number): T => {
  const item = list[index];
  if (item === undefined) throw new Error(`nothing at ${index}`);
  return item;
};

/** Faults of the present content after one change to a copy of it. */
function faultsOf(spoil: (content: Content) => void): Fault[] {
  const copy = structuredClone(loadContent(currentVersion)) as Content;
  spoil(copy);
  const result = checkContent(copy);
  return 'faults' in result ? result.faults : [];
}

const spoilt: [string, (content: Content) => void, string, RegExp][] = [
  ['a source nobody lists', (c) => void (at(c.bones, 1).source = 'hearsay'), 'bones[1].source', /hearsay/],
  [
    'a caution without its source',
    (c) => void (at(at(c.moves, 0).cautions, 0).source = 'x'),
    'moves[0].cautions[0].source',
    /x/,
  ],
  ['a limit without its source', (c) => void (c.limits.boneStop.source = 'x'), 'limits.boneStop.source', /x/],
  ['a move without caution', (c) => void (at(c.moves, 2).cautions = []), 'moves[2].cautions', /./],
  [
    'a move without words',
    (c) => void Reflect.deleteProperty(c.phrases.moves, 'burr-out'),
    'phrases.moves.burr-out',
    /missing/,
  ],
  [
    'a glance label of seventeen letters',
    (c) => void (c.phrases.stages.seated.glance = 'x'.repeat(17)),
    'phrases.stages.seated.glance',
    /sixteen/,
  ],
  [
    'a read-aloud line of thirteen words',
    (c) => void (c.phrases.holds.heat.say = 'a '.repeat(13).trim()),
    'phrases.holds.heat.say',
    /twelve/,
  ],
  [
    'an unknown tool',
    (c) => void (at(c.moves, 4).needs = [{ anyOf: ['crowbar' as 'mallet'] }]),
    'moves[4].needs[0].anyOf[0]',
    /crowbar/,
  ],
  ['an unknown field', (c) => void Object.assign(at(c.moves, 0), { rank: 1 }), 'moves[0].rank', /unknown field/],
  ['a move twice', (c) => void c.moves.push(structuredClone(at(c.moves, 0))), 'moves[18]', /repeats turn-out/],
  ['a move too few', (c) => void c.moves.splice(3, 1), 'moves', /lacks drive-oversize/],
  ['moves out of order', (c) => void c.moves.reverse(), 'moves[0].id', /expected turn-out/],
  ['a tool too few', (c) => void c.tools.pop(), 'tools', /lacks narrow-forceps/],
  ['a hold too few', (c) => void c.holds.shift(), 'holds', /lacks reassess/],
  ['a hold number twice', (c) => void (at(c.holds, 1).number = 'H1'), 'holds[1]', /repeats H1/],
  [
    'a source id twice',
    (c) => void c.sources.push(structuredClone(at(c.sources, 0))),
    `sources[${loadContent(currentVersion)?.sources.length}]`,
    /repeats/,
  ],
  [
    'memory dressed up as reading',
    (c) => {
      for (const row of c.sources) if (row.id === 'bone-prefill') row.status = 'seen';
    },
    `sources[${loadContent(currentVersion)?.sources.findIndex(({ id }) => id === 'bone-prefill')}].cite`,
    /from memory/,
  ],
  ['an unknown status', (c) => void (at(c.sources, 0).status = 'certain' as 'seen'), 'sources[0].status', /certain/],
  ['a bone that is all cortex', (c) => void (at(c.bones, 0).cortex = 14), 'bones[0].cortex', /half the outer/],
  ['a screw that is all core', (c) => void (at(c.screws, 0).core = 1.5), 'screws[0].core', /less than the diameter/],
  ['limits crossed over', (c) => void (c.limits.boneConsider.value = 0.4), 'limits.boneConsider.value', /boneStop/],
  ['an infinite figure', (c) => void (c.limits.torsionRate.value = Infinity), 'limits.torsionRate.value', /./],
  [
    'a hazard without a test',
    (c) => void (c.hazards = [{ ...at(hazardsOf('2026.1') ?? [], 5), tests: [] }]),
    'hazards[0].tests',
    /./,
  ],
  ['an expiry before the review', (c) => void (c.expires = '2025-01-01'), 'expires', /later than reviewed/],
];

describe('[Z12] content that is not whole is refused with the path of the fault', () => {
  it.each(spoilt)('%s', (_, spoil, path, message) => {
    const fault = faultsOf(spoil).find((f) => f.path === path);
    expect(fault, JSON.stringify(faultsOf(spoil))).toBeDefined();
    expect(fault?.message).toMatch(message);
  });

  it.each([null, 7, 'content', [], {}])('%j is not content', (value) => {
    const result = checkContent(value);
    expect('faults' in result && result.faults.length).toBeGreaterThan(0);
  });

  it('an untouched copy is whole', () => {
    expect(faultsOf(() => undefined)).toEqual([]);
  });
});
