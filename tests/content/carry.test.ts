/** A department's content over 2026.1 carried over to 2026.2: nothing of it lost, or all of it kept back with its path. */
import { describe, expect, it } from 'vitest';
import { carryOver, carrySteps } from '../../content/carry.ts';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import { applyOverlay, contentOf, readOverlay, versionOf } from '../../content/overlay.ts';
import { differences } from '../../content/overlay-diff.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Content } from '../../content/types.ts';
import { everything, overlayWith, release } from './overlays.ts';

await fetchReleases();
const draft = loadContent('2026.2-draft') as Content;
const { order: _, ...kept } = everything;
const own = {
  ...kept,
  consent: [{ id: 'own-blood', label: 'Blood may be given', help: 'Invented for a test' }],
} as Partial<OverlayFile>;

const contentOver = (changes: Partial<OverlayFile>): Content => {
  const applied = applyOverlay(release, overlayWith(changes));
  if ('faults' in applied) throw new Error(JSON.stringify(applied.faults));
  return applied.content;
};
function carried(changes: Partial<OverlayFile>) {
  const result = carryOver(overlayWith(changes), draft.version);
  if ('faults' in result) throw new Error(JSON.stringify(result.faults));
  return result;
}
const refused = (changes: Partial<OverlayFile>) => {
  const result = carryOver(overlayWith(changes), draft.version);
  return 'faults' in result ? result.faults.map(({ path, code }) => [path, code]) : result.overlay.version;
};

describe('what is carried over', () => {
  it('differs from the later release in all that it differed in from the earlier one, and in nothing else', () => {
    // Where a list ends says nothing of what was added to it, and a limit that a release does not set is one path.
    const plain = (path: string) => path.replace(/\.\d+(?=\.|$)/g, '').replace(/^(limits\.\w+)\..*/, '$1');
    const paths = (before: Content, after: Content) => [
      ...new Set(
        differences(before, after)
          .map(({ path }) => plain(path))
          .sort(),
      ),
    ];
    const at = (path: string) => !['version', 'department', 'ids.consent'].includes(path);
    const before = paths(release, contentOver(own)).filter(at);
    expect(before.length).toBeGreaterThan(14);
    expect(paths(draft, carried(own).content).filter(at)).toEqual(before);
  });

  it('has the figures, words, tools and lines of the department', () => {
    const { content } = carried(own);
    expect(content.limits.boneConsider).toEqual({ value: 0.18, source: 'set-by-the-department' });
    expect(content.limits.tourniquetMinutes).toEqual({ value: 100, source: 'set-by-the-department' });
    expect(content.limits.boneStop).toEqual(draft.limits.boneStop);
    expect(content.moves.find(({ id }) => id === 'drive-oversize')?.notUsedHere).toBe(true);
    expect(content.phrases.moves['grip-head'].label).toBe('Hold the head from outside');
    expect(content.antibiotics.find(({ id }) => id === 'inventin')).toMatchObject({ redoseHours: null, dose: '1 g' });
    expect(content.department?.toolSets).toEqual(own.toolSets);
    expect(content.hazards.map(({ id }) => id)).toContain('D1');
    expect(content.moves.map(({ id }) => id)).toEqual(draft.moves.map(({ id }) => id));
  });

  it('keeps the day, the name and the reason, counts on, and names the version that it came from', () => {
    const before = overlayWith(own, 3);
    const result = carryOver(before, draft.version);
    if ('faults' in result) throw new Error('refused');
    const { overlay, content } = result;
    expect(overlay).toMatchObject({ base: draft.version, carriedFrom: before.version, changedOn: before.changedOn });
    expect(overlay.version).toMatch(/^2026\.2-draft\+ward-3\.[0-9a-f]{8}$/);
    expect(overlay.version).toBe(versionOf(overlay, 'ward', 3));
    expect(content.department?.carriedFrom).toBe(before.version);
    expect(contentOf(overlay.version, JSON.parse(JSON.stringify(overlay)))?.version).toBe(overlay.version);
    expect(readOverlay({ ...overlay, carriedFrom: '2026.1+ward-9.00000000' })).toHaveProperty('faults');
  });

  it('leaves the old file as it was, and readable', () => {
    const before = overlayWith(own);
    const text = JSON.stringify(before);
    carryOver(before, draft.version);
    expect(JSON.stringify(before)).toBe(text);
    expect(contentOf(before.version, before)?.version).toBe(before.version);
  });

  it('drops an order that is that of the release: nothing was ordered', () => {
    const { overlay, content } = carried({ order: release.moves.map(({ id }) => id) });
    expect(overlay.order).toBeUndefined();
    expect(content.moves.map(({ order }) => order)).toEqual(draft.moves.map(({ order }) => order));
  });
});

describe('what has no place', () => {
  it('is named by its path, all at once, and keeps all of it back', () => {
    expect(
      refused({
        ...own,
        order: everything.order,
        phrases: {
          en: {
            holds: { 'consider-trephine': { say: 'Hollow reamer next?' } },
            stages: { 'left-in': { label: 'Left in the bone' } },
          },
          de: { holds: { 'bone-consider': { help: 'Knochen ansehen' } } },
        },
      }),
    ).toEqual([
      ['order', 'order-anew'],
      ['phrases.en.holds.consider-trephine', 'asks-anew'],
      ['phrases.en.stages.left-in.label', 'left-side'],
      ['phrases.de.holds.bone-consider', 'asks-anew'],
    ]);
  });

  it('takes a left-hand tap for no side', () => {
    expect(refused({ phrases: { en: { tools: { 'reverse-tap': { label: 'tap, left-hand' } } } } })).toMatch(/^2026\.2/);
  });

  it('is what the later release says itself: a glance label that is taken, a source that has its id', () => {
    const taken = draft.phrases.moves['break-loose'].glance;
    expect(refused({ phrases: { en: { moves: { 'grip-head': { glance: taken } } } } })).toEqual([
      ['phrases.en.moves.grip-head.glance', 'glance-taken'],
    ]);
    const id = draft.sources.find((row) => !release.sources.some((one) => one.id === row.id))?.id as string;
    const sources = [{ id, what: 'Invented', cite: 'Invented audit', status: 'seen' as const }];
    expect(refused({ sources })).toEqual([['sources[0]', 'repeats']]);
  });

  it('is a file of another release, one that is faulty, and a release that is not there', () => {
    const over = carried(own).overlay;
    expect(carryOver(over, draft.version)).toMatchObject({ faults: [{ path: 'base', code: 'no-step' }] });
    expect(carryOver(overlayWith(own), '1999.1')).toMatchObject({ faults: [{ path: 'base', code: 'no-content' }] });
    const { faults } = carryOver({ base: '2026.1' }, draft.version) as { faults: { path: string }[] };
    expect(faults.map(({ path }) => path)).toEqual([
      'format',
      'formatVersion',
      'version',
      'name',
      'changedOn',
      'reason',
    ]);
  });
});

describe('the steps', () => {
  it('lose no id: every one of the earlier release is one of the later', () => {
    for (const { from, to } of carrySteps) {
      const [before, after] = [from, to].map((version) => loadContent(version, 'en') as Content) as [Content, Content];
      for (const kind of ['moves', 'tools', 'outcomes', 'holds', 'notices', 'consent', 'drives'] as const) {
        const known: readonly string[] = after.ids[kind];
        expect(
          before.ids[kind].filter((id) => !known.includes(id)),
          `${from} to ${to}: ${kind}`,
        ).toEqual([]);
      }
    }
  });
});

describe('consent points of a department', () => {
  it('stand behind those of the release in words of their own, and are no points of any other content', () => {
    const { content } = carried(own);
    expect(content.consent.at(-1)).toEqual({ id: 'own-blood', source: 'set-by-the-department' });
    expect(content.phrases.consent).toMatchObject({ 'own-blood': { label: 'Blood may be given' } });
    expect(draft.ids.consent).not.toContain('own-blood');
  });

  it('are refused by path where the id is none of its own, or stands twice', () => {
    const faults = (consent: OverlayFile['consent']) => {
      const applied = applyOverlay(release, overlayWith({ consent }));
      return 'faults' in applied ? applied.faults.map(({ path, code }) => [path, code]) : [];
    };
    const point = { label: 'Invented', help: 'Invented' };
    expect(faults([{ id: 'may-stay', ...point }])).toEqual([['consent[0].id', 'consent-id']]);
    expect(
      faults([
        { id: 'own-a', ...point },
        { id: 'own-a', ...point },
      ]),
    ).toEqual([['consent[1].id', 'repeats']]);
  });
});
