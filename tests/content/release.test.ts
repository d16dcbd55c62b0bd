import { describe, expect, it } from 'vitest';
import { contentVersions, loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { holdIds, moveIds, noticeIds, toolIds, workingStages } from '../ids.ts';
import type { Content, Spoken } from '../../content/types.ts';

const forbidden =
  /\b(alarms?|alerts?|monitors?|safe|safely|safety|cleared|recommend\w*|should|must|best|preferred|advis\w*)\b/i;
const words = (line: string) => line.trim().split(/\s+/).length;

describe.each(contentVersions())('content %s', (version) => {
  const content = loadContent(version) as Content;
  const sources = new Map(content.sources.map((row) => [row.id, row]));
  const { phrases } = content;
  const spoken: [string, Spoken][] = [
    ...Object.entries(phrases.stages),
    ...Object.entries(phrases.moves),
    ...Object.entries(phrases.holds),
  ];

  it('bears its own version, and is loaded once', () => {
    expect(content.version).toBe(version);
    expect(loadContent(version)).toBe(content);
  });

  it.each(content.moves)('$id has words, a known source, a caution and a likely end', (move) => {
    expect(phrases.moves[move.id].label).not.toBe('');
    expect(sources.has(move.source)).toBe(true);
    expect(move.cautions.length).toBeGreaterThan(0);
    // Nobody starts leaving in, so it has no outcomes.
    if (move.id === 'leave-in') expect(move.likely).toEqual([]);
    else expect(move.likely.length).toBeGreaterThanOrEqual(3);
    expect(move.evidence.every(({ source }) => sources.has(source))).toBe(true);
  });

  it.each(spoken)(
    '[Z8] %s has a glance label of at most sixteen letters and a line of at most twelve words',
    (_, s) => {
      expect(s.glance.length).toBeLessThanOrEqual(16);
      expect(words(s.say)).toBeLessThanOrEqual(12);
    },
  );

  it('[Z8] tells every move, stage and outcome apart by its glance label', () => {
    for (const group of [phrases.moves, phrases.stages, phrases.holds, phrases.outcomes]) {
      const labels = Object.values(group).map(({ glance }) => glance);
      expect(new Set(labels).size).toBe(labels.length);
    }
  });

  it('[Z9] gives every figure a source whose status can be shown beside it', () => {
    const { limits, screws, recesses, bones, antibiotics, holds, consent, tools } = content;
    const sourced = [...screws, ...recesses, ...bones, ...antibiotics, ...holds, ...consent, ...tools];
    const cited = [...Object.values(limits).flat(), ...sourced].filter((row) => row !== null);
    expect(cited.map(({ source }) => sources.get(source)?.status)).not.toContain(undefined);
  });

  it('marks as from memory whatever was not read: screws, bones, reamers', () => {
    const { screws, bones, limits } = content;
    const statuses = [...screws, ...bones, limits.reamerWall, limits.reamerPrefill].map(
      ({ source }) => sources.get(source)?.status,
    );
    expect(new Set(statuses)).toEqual(new Set(['from-memory']));
  });

  it('[Z11] never ranks, orders about or soothes: no such word in anything shown live', () => {
    const { cautions: _, ...live } = phrases;
    const shown = [
      ...strings(live),
      ...content.moves.flatMap(({ cautions, evidence }) => [...cautions, ...evidence].map(({ text }) => text)),
      ...content.holds.flatMap(({ reasons }) => reasons),
      ...content.tools.map(({ why }) => why),
      ...content.limits.tourniquetBySite.map(({ text }) => text),
      content.orderStatus,
    ];
    expect(shown.filter((line) => forbidden.test(line))).toEqual([]);
  });

  it('says in its standing cautions what it is not', () => {
    const all = phrases.cautions.join(' ');
    for (const part of [
      'trained',
      'surgeon decides',
      'Not a monitor',
      'count of swabs',
      'MR status',
      'device',
      'draft',
    ])
      expect(all).toContain(part);
  });

  it('fills outcome sentences with a screw or a tool and nothing else', () => {
    const holes = Object.values(phrases.outcomes).flatMap(({ sentence }) => sentence.match(/\{[^}]*\}/g) ?? []);
    expect(new Set(holes)).toEqual(new Set(['{screw}', '{tool}']));
    for (const { sentence } of Object.values(phrases.outcomes)) expect(sentence).toContain('{screw}');
  });
});

describe('content of the present version', () => {
  const content = loadContent(currentVersion) as Content;
  const move = (id: string) => content.moves.find((m) => m.id === id);
  const where = (of: (m: Content['moves'][number]) => boolean) => content.moves.filter(of).map(({ id }) => id);

  it('is the newest version, and an unknown version is undefined', () => {
    expect(contentVersions().at(-1)).toBe(currentVersion);
    expect(loadContent('1999.1')).toBeUndefined();
  });

  it('holds every move, tool, hold and notice', () => {
    expect(content.moves.map(({ id }) => id)).toEqual(moveIds);
    expect(content.tools.map(({ id }) => id)).toEqual(toolIds);
    expect(new Set(content.holds.map(({ id }) => id))).toEqual(new Set([...holdIds, ...noticeIds]));
    expect(new Set(content.holds.map(({ number }) => number)).size).toBe(12);
  });

  it('offers more than leaving in at every stage, with leaving in last', () => {
    for (const stage of workingStages) {
      const open = where(({ fits }) => fits.includes(stage));
      expect(open.length).toBeGreaterThan(1);
      expect(open.at(-1)).toBe('leave-in');
    }
  });

  it('names the moves that turn in the recess, make shavings, make heat and run in reverse', () => {
    expect(where((m) => m.turnsInRecess)).toEqual(['turn-out', 'reseat-driver', 'pack-recess', 'drive-oversize']);
    expect(where((m) => m.shavings)).toEqual(['reverse-tap', 'free-plate', 'slot-head', 'drill-head-off', 'burr-out']);
    expect(where((m) => m.heat && !m.shavings)).toEqual(['hollow-ream']);
    expect(where((m) => m.reverse)).toEqual(['reverse-tap', 'hollow-ream', 'extraction-sleeve']);
    expect(where((m) => m.fitsJammedSeat)).toEqual(['grip-head', 'conical-extractor', 'free-plate', 'drill-head-off']);
  });

  it('turns anticlockwise wherever it turns the screw', () => {
    expect(where((m) => m.turn === 'none')).toEqual(['drill-head-off', 'push-through', 'burr-out', 'leave-in']);
  });

  it('takes bone only where a gouge, a reamer or a burr is used', () => {
    expect(where((m) => Object.keys(m.projection).length > 0)).toEqual([
      'gouge-and-grip',
      'hollow-ream',
      'extraction-sleeve',
      'burr-out',
    ]);
    expect(move('burr-out')?.projection['fragment-retained']).toEqual({ near: { plus: 2 }, far: { plus: 2 } });
    expect(move('hollow-ream')?.projection['head-sheared']).toEqual({ near: { reamer: true } });
  });

  it('never offers "head came off" for a screw whose head is gone', () => {
    const headless = content.moves.filter(({ fits }) => !fits.some((s) => s === 'seated' || s === 'recess-stripped'));
    expect(headless.length).toBe(7);
    for (const { likely } of headless) expect(likely).not.toContain('head-sheared');
  });

  it('marks exactly the tools that grip', () => {
    const grippers = content.tools.filter(({ gripper }) => gripper).map(({ id }) => id);
    expect(grippers).toEqual(['head-gripper', 'locking-pliers', 'retired-rongeur']);
    expect(move('grip-shank')?.needs).toEqual([{ anyOf: grippers }]);
  });

  it('leaves a drug that is not redosed without an interval', () => {
    const redose = new Map(content.antibiotics.map(({ id, redoseHours }) => [id, redoseHours]));
    expect(redose.get('cefazolin')).toBe(4);
    expect(redose.get('vancomycin')).toBeNull();
  });
});

function strings(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(strings) : [];
}
