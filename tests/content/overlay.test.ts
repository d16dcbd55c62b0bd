import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkContent } from '../../content/check.ts';
import { moveIds } from '../ids.ts';
import { differences } from '../../content/overlay-diff.ts';
import { applyOverlay, contentOf, departmentSource, readOverlay, versionOf } from '../../content/overlay.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Content } from '../../content/types.ts';
import { explore } from '../explore.ts';
import { length, times } from '../lengths.ts';
import { everything, overlayWith, release } from './overlays.ts';

function contentWith(changes: Partial<OverlayFile>): Content {
  const applied = applyOverlay(release, overlayWith(changes));
  if ('faults' in applied) throw new Error(JSON.stringify(applied.faults));
  return applied.content;
}
const faultsWith = (changes: Record<string, unknown>) => {
  const applied = applyOverlay(release, overlayWith(changes));
  return 'faults' in applied ? applied.faults : [];
};

describe('an overlay with nothing in it', () => {
  it('changes nothing but the version, the row that says so, and whose it is', () => {
    const paths = differences(release, contentWith({})).map(({ path }) => path);
    expect(paths).toEqual(['version', `sources.${departmentSource}`, 'department']);
  });
});

describe('an overlay with everything in it', () => {
  const content = contentWith(everything);
  const move = (id: string) => content.moves.find((one) => one.id === id);

  it('sets order and availability, and says that the order is the department’s', () => {
    expect(content.moves.slice(0, 3).map(({ id }) => id)).toEqual(['reseat-driver', 'turn-out', 'pack-recess']);
    expect(content.moves.filter(({ notUsedHere }) => notUsedHere).map(({ id }) => id)).toEqual(['drive-oversize']);
    expect(content.orderStatus).toContain('set by the department on 2026-03-02');
    expect(move('burr-out')?.source).toBe(departmentSource);
  });

  it('[Z9] gives every changed figure the department as its source, and leaves the others theirs', () => {
    expect(content.limits.boneConsider).toEqual({ value: 0.18, source: departmentSource });
    expect(content.limits.tourniquetMinutes).toEqual({ value: 100, source: departmentSource });
    expect(content.limits.boneStop).toEqual(release.limits.boneStop);
    expect(content.antibiotics.find(({ id }) => id === 'cefazolin')).toMatchObject({
      redoseHours: 3,
      source: departmentSource,
    });
    expect(content.antibiotics.at(-1)).toEqual({
      id: 'inventin',
      redoseHours: null,
      dose: '1 g',
      source: departmentSource,
    });
    const row = content.sources.find(({ id }) => id === departmentSource);
    expect(row?.status).toBe('department');
    expect(row?.cite).toBe('set by the department on 2026-03-02: invented for a test');
  });

  it('a figure set to what it was before keeps its source', () => {
    const same = contentWith({ limits: { boneStop: release.limits.boneStop.value } });
    expect(same.limits.boneStop).toEqual(release.limits.boneStop);
  });

  it('[Z12] adds sources, cautions, hazards and policy behind those of the release', () => {
    expect(content.sources.slice(0, release.sources.length)).toEqual(release.sources);
    expect(content.sources.at(-1)?.id).toBe('ward-audit');
    expect(content.hazards.slice(0, release.hazards.length)).toEqual(release.hazards);
    expect(content.hazards.at(-1)).toMatchObject({ id: 'D1', tests: [] });
    const added = content.phrases.cautions.slice(release.phrases.cautions.length);
    expect(added).toEqual([
      'Local policy, set by the department on 2026-03-02: Tools from outside the house are not used.',
      'Tell the desk before the second hour. (added by the department on 2026-03-02)',
    ]);
    const of = (one: Content) => one.moves.find(({ id }) => id === 'burr-out')?.cautions ?? [];
    expect(of(content).slice(of(release).length)).toEqual([
      { text: 'Two suckers at the table', source: 'ward-audit' },
      { text: 'Visor down', source: departmentSource },
    ]);
  });

  it('puts words in the place of words, and leaves what it does not name', () => {
    const { label, glance, say } = content.phrases.moves['grip-head'];
    expect([label, glance]).toEqual(['Hold the head from outside', 'hold head']);
    expect(say).toBe(release.phrases.moves['grip-head'].say);
    expect(content.phrases.consent['may-stay'].label).toBe('Part of it may stay in');
    expect(content.consent.find(({ id }) => id === 'may-stay')?.source).toBe(departmentSource);
    expect(content.consent.find(({ id }) => id === 'may-break')?.source).toBe('consent-points');
  });

  it('leaves words of another language alone', () => {
    const other = contentWith({ phrases: { xx: { moves: { 'grip-head': { label: 'Xxxx' } } } } });
    expect(other.phrases.moves).toEqual(release.phrases.moves);
  });

  it('names every difference with what stood before', () => {
    const found = differences(release, content);
    const at = (path: string) => found.find((one) => one.path === path);
    expect(at('limits.boneConsider.value')).toEqual({ path: 'limits.boneConsider.value', before: 0.2, after: 0.18 });
    expect(at('antibiotics.cefazolin.redoseHours')).toMatchObject({ before: 4, after: 3 });
    expect(at('moves.drive-oversize.notUsedHere')).toMatchObject({ before: false, after: true });
    expect(at('moves')?.before).toEqual(moveIds);
    expect(at('phrases.moves.grip-head.glance')?.after).toBe('hold head');
    expect(at('phrases.cautions.14')?.before).toBeUndefined();
  });
});

const long = (letters: number) => 'x'.repeat(letters);
const ids = release.moves.map(({ id }) => id);
const refused: [string, Record<string, unknown>, string, RegExp][] = [
  ['a limit above 1', { limits: { boneStop: 1.2 } }, 'limits.boneStop', /1/],
  ['a limit below 0', { limits: { boneConsider: -0.1 } }, 'limits.boneConsider', /0/],
  ['a limit that is text', { limits: { boneStop: '0.3' } }, 'limits.boneStop', /number/],
  ['limits crossed over', { limits: { boneConsider: 0.31 } }, 'limits.boneConsider', /boneStop/],
  ['a notice longer than the limit', { limits: { tourniquetMinutes: 10 } }, 'limits.tourniquetNoticeMinutes', /less/],
  ['another constant', { limits: { slipKeeps: 0.9 } }, 'limits.slipKeeps', /unknown field/],
  ['a tool that a move needs', { needs: { 'reverse-tap': [] } }, 'needs', /unknown field/],
  ['the rules of a move', { moves: [{ id: 'reverse-tap', reverse: false }] }, 'moves', /unknown field/],
  ['the holds', { holds: [] }, 'holds', /unknown field/],
  ['words of the screens', { phrases: { en: { words: {} } } }, 'phrases.en.words', /unknown field/],
  ['released cautions', { phrases: { en: { cautions: [] } } }, 'phrases.en.cautions', /unknown field/],
  ['an order with a move too few', { order: ids.slice(1) }, 'order', /lacks turn-out/],
  ['an order with a move twice', { order: [...ids.slice(0, 17), 'turn-out', 'leave-in'] }, 'order[17]', /repeats/],
  ['an order that ends with something else', { order: ['leave-in', ...ids.slice(0, 17)] }, 'order', /last/],
  ['an order with an unknown move', { order: ['pray', ...ids] }, 'order[0]', /pray/],
  ['leaving in not used', { notUsed: ['leave-in'] }, 'notUsed[0]', /open/],
  [
    'a released source again',
    { sources: [{ id: 'slip-halves', what: 'x', cite: 'x', status: 'seen' }] },
    'sources[0]',
    /repeats/,
  ],
  [
    'memory dressed up as reading',
    { sources: [{ id: 'own', what: 'x', cite: 'from memory', status: 'seen' }] },
    'sources[0].cite',
    /memory/,
  ],
  [
    'a hazard of the release again',
    { hazards: [{ id: 'Z1', situation: 'x', cause: 'x', harm: 'x', control: 'x' }] },
    'hazards[0].id',
    /D and a number/,
  ],
  [
    'a caution from nowhere',
    { cautions: { moves: { 'burr-out': [{ text: 'x', source: 'hearsay' }] } } },
    'cautions.moves.burr-out[0].source',
    /hearsay/,
  ],
  [
    'a glance label of seventeen letters',
    { phrases: { en: { stages: { seated: { glance: long(17) } } } } },
    'phrases.en.stages.seated.glance',
    /sixteen/,
  ],
  [
    'a glance label of another move',
    { phrases: { en: { moves: { 'turn-out': { glance: release.phrases.moves['grip-head'].glance } } } } },
    'phrases.en.moves.turn-out.glance',
    /another/,
  ],
  [
    'a read-aloud line of thirteen words',
    { phrases: { en: { holds: { heat: { say: 'a '.repeat(13).trim() } } } } },
    'phrases.en.holds.heat.say',
    /twelve/,
  ],
  [
    'a label that orders about',
    { phrases: { en: { moves: { 'turn-out': { label: 'Recommended: turn out' } } } } },
    'phrases.en.moves.turn-out.label',
    /orders about/,
  ],
  [
    'a fault in a language that is not shown',
    { phrases: { xx: { moves: { 'turn-out': { glance: long(17) } } } } },
    'phrases.xx.moves.turn-out.glance',
    /sixteen/,
  ],
  ['a line with a break in it', { policy: ['one\ntwo'] }, 'policy[0]', /one line/],
  [
    'a drug that nobody lists, without a dose',
    { antibiotics: [{ id: 'inventin', redoseHours: 2 }] },
    'antibiotics[0].dose',
    /missing/,
  ],
  ['an interval of nothing', { antibiotics: [{ id: 'cefazolin', redoseHours: 0 }] }, 'antibiotics[0].redoseHours', /0/],
  [
    'a tool that is none',
    { toolSets: [{ name: 'x', tools: [{ tool: 'crowbar' }] }] },
    'toolSets[0].tools[0].tool',
    /crowbar/,
  ],
  ['no reason', { reason: '' }, 'reason', /empty/],
  ['a day that is none', { changedOn: 'last Monday' }, 'changedOn', /date/],
  ['another release', { base: '1999.1' }, 'base', /is not 2026\.1/],
  ['a newer format', { formatVersion: 2 }, 'formatVersion', /2/],
];

describe('[Z12] [Z29] an overlay that is not whole is refused with the path of the fault', () => {
  it.each(refused)('%s', (_, changes, path, message) => {
    const faults = faultsWith(changes);
    const fault = faults.find((one) => one.path === path && message.test(one.message));
    expect(fault, JSON.stringify(faults)).toBeDefined();
  });

  it.each([null, 7, 'content', [], {}])('%j is no overlay', (value) => {
    const read = readOverlay(value);
    expect('faults' in read && read.faults.length).toBeGreaterThan(0);
  });

  it.each([
    ['policy', { policy: ['\ud800'] }, 'policy[0]'],
    ['a source', { sources: [{ id: 'own', what: '\ud800', cite: 'x', status: 'seen' }] }, 'sources[0].what'],
    ['the name', { name: 'ward \udfff' }, 'name'],
  ])('half of a character in %s', (_, spoilt, path) => {
    const read = readOverlay({ ...overlayWith(), ...spoilt });
    expect(read).toMatchObject({ faults: [{ path, message: expect.stringMatching(/seen/) as string }] });
  });

  it('a base that this build lacks is named', () => {
    const file = { ...overlayWith(), base: '1999.1' };
    expect(readOverlay({ ...file, version: versionOf(file, 'ward', 1) })).toEqual({
      faults: [
        {
          path: 'base',
          message: 'this build has no content "1999.1"',
          code: 'no-content',
          values: { version: '"1999.1"' },
        },
      ],
    });
  });
});

describe('[Z29] a version belongs to one content alone', () => {
  const file = overlayWith({ limits: { boneStop: 0.28 } }, 3);

  it('carries base, name, number and the first of the checksum', () => {
    expect(file.version).toMatch(/^2026\.1\+ward-3\.[0-9a-f]{8}$/);
    // By sha256sum over the canonical form, written out by hand.
    expect(overlayWith({}, 1).version).toBe('2026.1+ward-1.436cb6e8');
  });

  it('refuses a file that was changed under its version', () => {
    const changed = { ...file, limits: { boneStop: 0.4 } };
    expect(applyOverlay(release, changed)).toMatchObject({ faults: [{ path: 'version' }] });
    expect(contentOf(file.version, changed)).toBeUndefined();
  });

  it('refuses a version that names another base', () => {
    const version = file.version.replace('2026.1', '2025.9');
    expect(applyOverlay(release, { ...file, version })).toMatchObject({ faults: [{ path: 'version' }] });
  });

  it('reads the same whatever the order of the fields', () => {
    const turned = Object.fromEntries(Object.entries(file).reverse());
    expect(contentOf(file.version, turned)?.limits.boneStop.value).toBe(0.28);
  });

  it('is the release when nothing lies over it, and nothing when the two do not belong together', () => {
    expect(contentOf('2026.1')).toBe(release);
    expect(contentOf(file.version, file)?.version).toBe(file.version);
    expect(contentOf('2026.1', file)).toBeUndefined();
    expect(contentOf(file.version)).toBeUndefined();
  });
});

/** What an overlay may reach, by the paths of the differences. */
const reachable = [
  /^version$/,
  /^orderStatus$/,
  /^department$/,
  /^moves$/,
  /^moves\.[\w-]+\.(notUsedHere|source)$/,
  /^moves\.[\w-]+\.cautions\.\d+$/,
  /^limits\.(boneConsider|boneStop|tourniquetMinutes|tourniquetNoticeMinutes)\.(value|source)$/,
  /^antibiotics\.[^.]+(\.(redoseHours|source))?$/,
  /^consent\.[\w-]+\.source$/,
  /^hazards\.D\d+$/,
  /^sources\.[^.]+$/,
  /^phrases\.(stages|moves|holds|outcomes|drives|tools|consent)\./,
  /^phrases\.cautions\.\d+$/,
];

const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
/** Mostly what is allowed, now and then what is not. */
const mostly = <T>(good: fc.Arbitrary<T>, bad: fc.Arbitrary<T>) =>
  fc.oneof({ weight: 14, arbitrary: good }, { weight: 1, arbitrary: bad });
const text = mostly(
  fc.constantFrom('turn it', 'Hold the head', 'By hand only'),
  fc.oneof(fc.constantFrom('x'.repeat(300), 'a '.repeat(13).trim(), 'safe now', ' '), fc.string()),
);
const anyFigure = fc.oneof(fc.double(), fc.integer({ min: -5, max: 200 }));
const share = mostly(fc.double({ min: 0.05, max: 0.4, noNaN: true }), anyFigure);
const minutes = mostly(fc.integer({ min: 20, max: 200 }), anyFigure);
const spoken = fc.record({
  label: maybe(text),
  say: maybe(text),
  glance: maybe(mostly(fc.constant('one more'), text)),
});
const byRest = fc
  .shuffledSubarray([...moveIds], { minLength: moveIds.length })
  .map((all) => [...all.filter((id) => id !== 'leave-in'), 'leave-in' as const]);
const changes = fc.record({
  sources: fc.array(
    fc.record({
      id: mostly(fc.constantFrom('own'), fc.constantFrom('slip-halves', departmentSource)),
      what: text,
      cite: mostly(fc.constant('Invented 2026'), fc.constantFrom('from memory', 'set by the department on a day')),
      status: mostly(fc.constant('seen' as const), fc.constantFrom('from-memory' as const, 'department' as const)),
    }),
    { maxLength: 1 },
  ),
  order: maybe(mostly(byRest, fc.shuffledSubarray([...moveIds]))),
  notUsed: mostly(fc.subarray(moveIds.slice(0, 17), { maxLength: 4 }), fc.subarray([...moveIds])),
  limits: fc.record({ boneConsider: maybe(share), boneStop: maybe(share), tourniquetMinutes: maybe(minutes) }),
  antibiotics: fc.array(
    fc.record({
      id: mostly(fc.constant('cefazolin'), fc.constant('inventin')),
      redoseHours: fc.option(minutes),
      dose: mostly(fc.constant(undefined), fc.constant('1 g')),
    }),
    { maxLength: 1 },
  ),
  cautions: fc.record({
    standing: fc.array(text, { maxLength: 2 }),
    moves: fc.record({
      'burr-out': maybe(fc.array(fc.record({ text, source: maybe(fc.constant('slip-halves')) }), { maxLength: 2 })),
    }),
  }),
  policy: fc.array(text, { maxLength: 2 }),
  phrases: fc.record({
    en: fc.record({ moves: fc.record({ 'turn-out': maybe(spoken), 'grip-head': maybe(spoken) }) }),
  }),
});
/** As a file has it: no undefined, no number that JSON lacks. */
const asFile = (value: unknown) => JSON.parse(JSON.stringify(value)) as Partial<OverlayFile>;

describe('any overlay', () => {
  it('[Z12] [Z29] is refused with paths, or gives content that passes every check and lost nothing', () => {
    let whole = 0;
    explore(
      fc.property(changes, (some) => {
        const file = overlayWith(asFile(some));
        const applied = applyOverlay(release, file);
        if ('faults' in applied) {
          expect(applied.faults.length).toBeGreaterThan(0);
          for (const { path, message, code } of applied.faults) {
            expect([path, message]).not.toContain('');
            // Each can be said in the language of the device.
            expect(code, `${path}: ${message}`).not.toBe('unfit');
          }
          return;
        }
        whole++;
        const { content } = applied;
        expect(checkContent(content)).toEqual({ content });
        for (const { path, before, after } of differences(release, content)) {
          expect(
            reachable.some((pattern) => pattern.test(path)),
            path,
          ).toBe(true);
          // Nothing is taken away.
          expect([path, before === undefined || after !== undefined]).toEqual([path, true]);
        }
        expect(content.holds).toEqual(release.holds);
        expect(content.sources).toEqual(expect.arrayContaining(release.sources));
        expect(content.phrases.cautions).toEqual(expect.arrayContaining(release.phrases.cautions));
        expect(new Set(content.moves.map(({ id }) => id))).toEqual(new Set(moveIds));
      }),
      { numRuns: 200, seed: 20260302 },
    );
    // Neither half of the property is empty.
    expect(whole).toBeGreaterThan(length < 1 ? 0 : times(25));
    expect(whole).toBeLessThan(times(175));
  });
});
