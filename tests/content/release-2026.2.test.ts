/**
 * The second content against the ladder, by tables written by hand: what the trade agreed on stands here a second time,
 * so that a slip of the data shows.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { checkContent } from '../../content/check.ts';
import { workingStages, type MoveId, type WorkingStage } from '../../content/ids.ts';
import { fetchReleases } from '../../content/later.ts';
import { applyOverlay } from '../../content/overlay.ts';
import { statuses, type Content, type Move } from '../../content/types.ts';
import { overlayWith } from './overlays.ts';

await fetchReleases();
const content = loadContent('2026.2-draft', 'en') as Content;
const before = loadContent('2026.1', 'en') as Content;
const { moves, holds, limits, phrases } = content;
const move = (id: string) => moves.find((one) => one.id === id) as Move;
const where = (of: (one: Move) => boolean) => moves.filter(of).map(({ id }) => id);
const status = new Map(content.sources.map((row) => [row.id, row.status]));
const what = new Map(content.sources.map((row) => [row.id, row.what]));

const gripper = 'head-gripper, locking-pliers, retired-rongeur';
/** Stages, what each move needs: groups by `;`, any one of a group by `,`. */
const ladder: Readonly<Record<string, [stages: string, needs: string]>> = {
  'turn-out': ['seated', 'driver'],
  uncover: ['seated', 'gouge, metal-cutting-burr, osteotome'],
  'break-loose': ['seated', 'driver; mallet, long-handle'],
  'lift-and-turn': ['seated recess-stripped', `driver, ${gripper}; elevator, ${gripper}`],
  'open-near-cortex': ['seated', 'bone-drill, gouge'],
  'reseat-driver': ['recess-stripped', 'driver'],
  'pack-recess': ['recess-stripped', 'metal-foil; driver'],
  'drive-oversize': ['recess-stripped', 'mallet; oversize driver'],
  'grip-head': ['recess-stripped', gripper],
  'conical-extractor': ['recess-stripped', 'conical-extractor; t-handle'],
  'reverse-tap': ['recess-stripped', 'hard-metal-drill; reverse-tap; t-handle, reversing-drive'],
  'free-plate': ['recess-stripped', 'metal-cutting-saw, metal-cutting-burr, bolt-cutter'],
  'slot-head': ['recess-stripped', `metal-cutting-burr; driver-slotted, ${gripper}`],
  'drill-head-off': ['recess-stripped', 'hard-metal-drill'],
  'grip-shank': ['head-sheared', gripper],
  'gouge-and-grip': ['head-sheared', `gouge; ${gripper}`],
  'far-side': ['fragment-retained', gripper],
  'push-through': ['fragment-retained', 'punch; image-intensifier'],
  'hollow-ream': ['head-sheared fragment-retained', 'hollow-reamer; reversing-drive'],
  'extraction-sleeve': ['head-sheared fragment-retained', 'extraction-sleeve; reversing-drive'],
  window: ['fragment-retained', 'metal-cutting-burr, bone-saw, osteotome'],
  'burr-out': ['head-sheared fragment-retained', 'metal-cutting-burr; irrigation'],
  'leave-in': ['seated recess-stripped head-sheared fragment-retained', ''],
};

/** Order within a stage; at a seated screw with what a jammed seat opens. */
const order: Readonly<Record<WorkingStage, string>> = {
  seated:
    'turn-out uncover break-loose lift-and-turn open-near-cortex free-plate drill-head-off conical-extractor grip-head leave-in',
  'recess-stripped':
    'lift-and-turn reseat-driver pack-recess drive-oversize grip-head conical-extractor reverse-tap free-plate slot-head drill-head-off leave-in',
  'head-sheared': 'grip-shank extraction-sleeve gouge-and-grip hollow-ream burr-out leave-in',
  'fragment-retained': 'far-side push-through extraction-sleeve hollow-ream window burr-out leave-in',
};

const openings = {
  uncover: ['head-covered'],
  'break-loose': ['turned-without-gain'],
  'lift-and-turn': ['turned-free'],
  'open-near-cortex': ['moved-then-stuck', 'partly-threaded'],
};

describe('the moves of 2026.2', () => {
  it('are whole by the check of every release, and written for the second rules of the ladder', () => {
    expect(checkContent(content)).toEqual({ content });
    expect([content.ladder, before.ladder]).toEqual([2, 1]);
  });

  it('stand in ladder order', () => {
    expect(moves.map(({ id }) => id)).toEqual(Object.keys(ladder));
    expect(content.ids.moves).toEqual(Object.keys(ladder));
  });

  it.each(Object.entries(ladder))('%s is made for its stages, with its tools', (id, [stages, needs]) => {
    expect(move(id).fits.join(' ')).toBe(stages);
    const told = move(id).needs.map((group) => {
      if ('anyOf' in group) return group.anyOf.join(', ');
      return [group.driver === 'matched' ? 'driver' : 'oversize driver', ...(group.or ?? [])].join(', ');
    });
    expect(told.join('; ')).toBe(needs);
  });

  it.each(workingStages)('stand at %s in the order of that stage', (stage) => {
    const there = moves.filter(
      ({ fits, fitsJammedSeat }) => fits.includes(stage) || (stage === 'seated' && fitsJammedSeat),
    );
    const place = (one: Move) => one.order[stage] ?? 0;
    const sorted = [...there].sort((a, b) => place(a) - place(b));
    expect(sorted.map(({ id }) => id)).toEqual(order[stage].split(' '));
    // Either every move of a stage has a place there or none has: half a list would be sorted by two scales.
    expect([0, there.length]).toContain(there.filter((one) => one.order[stage] !== undefined).length);
  });

  it('are closed under a plate that lies on where they need the shank', () => {
    expect(where(({ underPlate }) => !underPlate)).toEqual([
      'grip-shank',
      'gouge-and-grip',
      'hollow-ream',
      'extraction-sleeve',
      'burr-out',
    ]);
  });

  it('are listed from the start, but for four that something has to open', () => {
    const opened = moves.filter(({ opens }) => opens.length > 0);
    expect(Object.fromEntries(opened.map(({ id, opens }) => [id, opens]))).toEqual(openings);
  });

  it('name those that prepare another, and those whose cost in bone is asked', () => {
    expect(where(({ prepares }) => prepares)).toEqual(['uncover', 'hollow-ream', 'window']);
    expect(where(({ boneAsked }) => boneAsked)).toEqual(['uncover', 'window']);
    for (const id of ['uncover', 'hollow-ream', 'window']) expect(move(id).likely[0]).toBe('set-up-done');
    expect(where(({ projection }) => Object.keys(projection).length > 0)).toEqual([
      'gouge-and-grip',
      'hollow-ream',
      'burr-out',
    ]);
  });

  it('keep what a jammed seat opens, the cone and the grip on the head last', () => {
    expect(where(({ fitsJammedSeat }) => fitsJammedSeat)).toEqual([
      'grip-head',
      'conical-extractor',
      'free-plate',
      'drill-head-off',
    ]);
  });

  it('turn in the recess, make shavings, run in reverse as said', () => {
    expect(where(({ turnsInRecess }) => turnsInRecess)).toEqual([
      'turn-out',
      'break-loose',
      'reseat-driver',
      'pack-recess',
      'drive-oversize',
    ]);
    expect(where(({ shavings }) => shavings)).toEqual([
      'reverse-tap',
      'free-plate',
      'slot-head',
      'drill-head-off',
      'burr-out',
    ]);
    expect(where(({ reverse }) => reverse)).toEqual(['reverse-tap', 'hollow-ream', 'extraction-sleeve']);
  });

  it('can end with a screw that turns and does not come wherever a driver may turn it, never among the first three', () => {
    const turning = where(({ likely }) => likely.includes('turns-free'));
    expect(turning).toEqual([
      ...['turn-out', 'break-loose', 'lift-and-turn', 'open-near-cortex'],
      ...['reseat-driver', 'pack-recess', 'drive-oversize'],
    ]);
    for (const id of turning) expect(move(id).likely.indexOf('turns-free')).toBeGreaterThan(2);
  });

  it("are in a department's own order at every stage, once it has one", () => {
    const own: MoveId[] = [
      'break-loose',
      'turn-out',
      ...content.ids.moves.filter((id) => !/^(break-loose|turn-out)$/.test(id)),
    ];
    // Nothing can be laid over a draft: its name takes no version of a department.
    const named = loadContent('2026.2', 'en') as Content;
    const laid = (order: typeof own) => {
      const applied = applyOverlay(named, overlayWith({ base: '2026.2', order }));
      if (!('content' in applied)) throw new Error(applied.faults.map(({ message }) => message).join());
      return applied.content.moves;
    };
    expect(laid(own).map(({ id }) => id)).toEqual(own);
    expect(laid(own).map((one) => one.order)).toEqual(own.map(() => ({})));
    expect(laid([...content.ids.moves]).map((one) => one.order)).toEqual(moves.map((one) => one.order));
  });

  it('have a rate each, but for letting it stay', () => {
    const rated = new Set<string>(content.rates.moves.map((rate) => rate.move));
    expect(where(({ id }) => !rated.has(id))).toEqual(['leave-in']);
  });
});

describe('the lists of 2026.2', () => {
  it('have what is new at the end, so that sets of tools keep their order', () => {
    expect(content.ids.tools).toEqual([
      ...before.ids.tools,
      ...['elevator', 'osteotome', 'bone-drill', 'bone-saw', 'long-handle', 'nail-extractor'],
    ]);
    expect(content.ids.consent).toEqual([
      ...before.ids.consent,
      ...['nerve-or-vessel', 'infection-or-wound', 'may-break-later', 'further-operation', 'symptoms-may-stay'],
    ]);
  });

  it('ask the holds in this order', () => {
    expect(content.ids.holds).toEqual([
      ...['hard-metal', 'stop-and-think', 'find-tip', 'still-fixed', 'far-wall'],
      ...['bone-stop', 'bone-consider', 'bone-unmeasured', 'reverse', 'reassess'],
      ...['second-surgeon', 'tourniquet', 'time', 'shavings', 'count'],
    ]);
    expect(content.ids.notices).toEqual(['first-turn', 'eyes-and-swabs', 'consider-trephine', 'heat', 'tourniquet']);
    expect(content.ids.closed.slice(0, 2)).toEqual(['does-not-fit', 'plate-on']);
    expect(content.ids.closed).toContain('tool-jammed');
    expect(content.ids.outcomes).toContain('turns-free');
  });

  it('keep the number of every hold, and count on from twelve', () => {
    const numbers = Object.fromEntries(holds.map(({ id, number }) => [id, number]));
    expect(numbers).toMatchObject(Object.fromEntries(before.holds.map(({ id, number }) => [id, number])));
    const all = holds.map(({ number }) => Number(number.slice(1))).sort((a, b) => a - b);
    expect(all).toEqual(Array.from({ length: 19 }, (_, index) => index + 1));
  });

  it('ask at a slip by the kind of tool, and at the far wall five things', () => {
    const asked = (id: string) => holds.find((hold) => hold.id === id)?.checks ?? [];
    const by = (tool: string) =>
      asked('reassess')
        .filter((check) => check.with === tool)
        .map(({ id }) => id);
    expect(by('driver')).toEqual(['recessCleared', 'fullySeated', 'inLine', 'freshDriver']);
    expect(by('gripper')).toEqual(['jawsSquare', 'edgeFree']);
    expect(by('cone')).toEqual(['inAxis', 'deepEnough']);
    expect(by('sleeve')).toEqual(['shankBare']);
    expect(asked('far-wall')).toEqual(
      ['corridor', 'secondCut', 'twoPlanes', 'depthMark', 'sharp'].map((id) => ({ id })),
    );
    const ids = holds.flatMap(({ checks }) => checks.map(({ id }) => id));
    // Asked once of a bone that is thin by measure, and not each time that the hold stands.
    expect(Object.keys(phrases.checks).sort()).toEqual([...new Set([...ids, 'thinBone'])].sort());
  });

  it('answer each hold with what can be said to it', () => {
    const answers = Object.fromEntries(holds.map((hold) => [hold.id, hold.answers.join(' ')]));
    expect(answers).toEqual({
      'hard-metal': 'go-on stop',
      'stop-and-think': 'go-on heeded stop',
      'find-tip': 'found not-found later',
      'still-fixed': 'confirmed go-on stop',
      'far-wall': 'confirmed go-on heeded stop',
      'bone-stop': 'go-on heeded stop',
      'bone-consider': 'go-on heeded stop',
      'bone-unmeasured': 'heeded go-on stop',
      reverse: 'confirmed stop',
      reassess: 'go-on stop',
      'second-surgeon': 'called scrubbed not-available go-on',
      tourniquet: 'let-down go-on',
      time: 'go-on stop',
      shavings: 'confirmed go-on',
      count: '',
      ...{ 'first-turn': '', 'eyes-and-swabs': '', 'consider-trephine': '', heat: '' },
    });
  });

  it('set no tourniquet limit, and remind from an hour on each half hour', () => {
    expect(limits.tourniquetMinutes).toBeNull();
    expect(limits.tourniquetReminder).toMatchObject({ from: 60, every: 30 });
    const limbs = limits.tourniquetBySite.map(({ text }) => text.split(':')[0]);
    expect([...new Set(limbs)]).toEqual(['Upper limb', 'Lower limb', 'Foot and ankle', 'Child', 'All']);
  });

  it('reckon the thin humerus from the published cut-off: (1 - 1/1.377) / 2', () => {
    expect(limits.thinHumerus?.value).toBeCloseTo((1 - 1 / 1.377) / 2, 3);
    expect(status.get(limits.thinHumerus?.source ?? '')).toBe('derived');
    expect(limits.thinAsked?.value).toBe(0.15);
    expect(status.get(limits.thinAsked?.source ?? '')).toBe('from-memory');
  });

  it('say what lies beyond each bone that has a usual size', () => {
    const beyond = (bone: string) =>
      content.beyond
        .filter((row) => row.bone === bone)
        .map(({ text }) => text)
        .join(' ');
    const nearby = {
      ...{ humerus: /radial nerve.*ulnar nerve/, ulna: /ulnar nerve/, clavicle: /subclavian.*plexus, pleura/ },
      ...{ radius: /posterior interosseous.*superficial radial/, femur: /femoral artery.*popliteal/ },
      ...{ tibia: /popliteal.*saphenous/, fibula: /common peroneal.*superficial peroneal/ },
      metacarpal: /tendons, digital nerves/,
    };
    for (const [bone, said] of Object.entries(nearby)) expect(beyond(bone)).toMatch(said);
    expect(Object.keys(nearby).sort()).toEqual(content.bones.map(({ id }) => id).sort());
  });

  it('give a line for the time after each long bone, and weeks only where a source has them', () => {
    const bones = new Set(content.aftercare.map(({ bone }) => bone));
    expect(bones).toEqual(new Set([null, 'radius', 'ulna', 'clavicle', 'femur', 'tibia', 'humerus']));
    const weeks = content.aftercare.filter(({ text }) => /\bweeks?\b/.test(text));
    expect(weeks.map(({ id }) => id)).toEqual(['hip-screws']);
  });

  it('have sizes up to 7.3 and lag screws up to 13 mm, all but the old ones from memory', () => {
    const old = new Set(before.screws.map(({ id }) => id));
    const added = content.screws.filter(({ id }) => !old.has(id));
    const widest = (of: (id: string) => boolean) =>
      Math.max(...added.filter(({ id }) => of(id)).map(({ diameter }) => diameter));
    expect(widest((id) => !id.startsWith('lag-'))).toBe(7.3);
    expect(widest((id) => id.startsWith('lag-'))).toBe(13);
    expect(added.map(({ source }) => status.get(source))).toEqual(added.map(() => 'from-memory'));
    expect(content.screws.slice(0, old.size)).toEqual(before.screws);
  });
});

/** Every text that rests on a source, with its place. */
const cited = [
  ...moves.flatMap(({ id, cautions, evidence }) =>
    [...cautions, ...evidence].map(({ text, source }) => ({ at: id, text, source })),
  ),
  ...limits.tourniquetBySite.map(({ text, source }) => ({ at: 'tourniquet', text, source })),
  ...content.beyond.map(({ bone, where: part, text, source }) => ({ at: bone, text: `${part ?? ''} ${text}`, source })),
  ...content.aftercare.map(({ id, text, source }) => ({ at: id, text, source })),
  ...holds.flatMap(({ id, evidence }) => evidence.map(({ text, source }) => ({ at: id, text, source }))),
];
const numbers = (text: string): string[] => text.match(/\d+(?:\.\d+)?/g) ?? [];

describe('the sources of 2026.2', () => {
  it('[Z9] bear out every number that is told: it stands in the row it is told from', () => {
    expect(cited.length).toBeGreaterThan(150);
    const unsaid = cited.filter(({ text, source }) => {
      const known = numbers(what.get(source) ?? '');
      return numbers(text).some((number) => !known.includes(number));
    });
    // Rows of the release before, whose source says less than the text: seen there, worded there.
    const words = new Set(
      before.moves.flatMap(({ cautions, evidence }) => [...cautions, ...evidence].map(({ text }) => text)),
    );
    expect(unsaid.filter(({ text }) => !words.has(text))).toEqual([]);
  });

  it('are seen, quoted or computed wherever a result of patients or of the bench is told', () => {
    const figures = moves.flatMap(({ id, evidence }) =>
      evidence.filter(({ text }) => /\d/.test(text)).map(({ source }) => [id, status.get(source)]),
    );
    expect(figures.filter(([, told]) => !['seen', 'seen-second-hand', 'derived'].includes(told ?? ''))).toEqual([]);
  });

  it('keep every row of the release before, and have no status but the known ones', () => {
    const ids = new Set(content.sources.map(({ id }) => id));
    expect(before.sources.filter(({ id }) => !ids.has(id))).toEqual([]);
    expect(content.sources.filter((row) => !statuses.includes(row.status) || row.status === 'department')).toEqual([]);
  });

  it('are all used: every row that this release brought is cited by a rule, a figure or a line of it', () => {
    const used = new Set<string>();
    const walk = (value: unknown): void => {
      if (typeof value !== 'object' || value === null) return;
      for (const [key, child] of Object.entries(value)) {
        if (key === 'source' && typeof child === 'string') used.add(child);
        walk(child);
      }
    };
    const { sources, ...rest } = content;
    walk(rest);
    const old = new Set(before.sources.map(({ id }) => id));
    expect(sources.length - old.size).toBeGreaterThan(60);
    expect(sources.filter(({ id }) => !old.has(id) && !used.has(id)).map(({ id }) => id)).toEqual([]);
  });

  it('say of what is common practice or from memory that it is', () => {
    const of = (id: string) => [...move(id).cautions, ...move(id).evidence].map(({ source }) => status.get(source));
    for (const id of ['uncover', 'break-loose', 'lift-and-turn']) expect(of(id)).toContain('common-practice');
    for (const id of ['open-near-cortex', 'window']) expect(of(id)).toContain('from-memory');
  });

  it('are counted: how many rules rest on what', () => {
    const rules = [
      ...cited.map(({ source }) => source),
      ...[...holds, ...content.consent, ...content.tools, ...content.screws, ...content.bones].map((row) => row.source),
      ...content.rates.moves.flatMap((rate) => rate.outcomes.map((one) => one.source)),
    ];
    const share = Object.fromEntries(
      statuses.map((one) => [one, rules.filter((source) => status.get(source) === one).length]),
    );
    console.log(`2026.2, rules by status of their source, of ${rules.length}:`, share);
    expect(Object.values(share).reduce((sum, count) => sum + count, 0)).toBe(rules.length);
    expect(share).toMatchObject({ department: 0 });
    expect(share.seen).toBeGreaterThan(60);
  });
});

describe('the words of 2026.2', () => {
  it('are those of the trade', () => {
    const told = {
      ...{ uncover: 'Clear the head', 'break-loose': 'Rap and rock', 'lift-and-turn': 'Pull and turn' },
      ...{ 'open-near-cortex': 'Open near wall', 'drive-oversize': 'Hammer oversize' },
      ...{ 'reverse-tap': 'Left-hand tap', 'conical-extractor': 'Extractor by hand', 'leave-in': 'Let it stay' },
    };
    const labels = Object.fromEntries(Object.entries(phrases.moves).map(([id, words]) => [id, words.label]));
    expect(labels).toMatchObject(told);
    expect(phrases.tools['hard-metal-drill'].label).toBe('carbide drill (metal-cutting)');
    expect(phrases.tools['retired-rongeur'].label).toBe('old rongeur kept for gripping');
    expect(phrases.tools['driver-hexalobular'].label).toBe('six-lobe (star) driver');
    expect(phrases.holds['second-surgeon'].say).toBe('Two tries without progress. Call a second surgeon?');
    expect(phrases.holds['bone-consider'].help).toContain('Cortex lost (ring)');
    expect(phrases.stages['head-sheared'].label).toBe('No head');
  });

  it('use LEFT for a side alone: metal stays', () => {
    const texts = JSON.stringify([{ ...phrases, words: {} }, moves, holds, content.aftercare, content.beyond]);
    const ids = texts.replaceAll(/"left-in"/g, '').replaceAll(/"left-(?:penning|schepers)-\d+"/g, '');
    expect(ids.match(/.{20}\bleft\b(?!-hand).{20}/gi)).toBeNull();
  });

  it('name no product: no capital inside a sentence but of what is listed here', () => {
    const known = new Set(
      'MRI MR LEFT RIGHT T N Eriksson Albrektsson Elias Frassica Chao Figures The Heat Recess Push Pull'.split(' '),
    );
    const raw = JSON.parse(readFileSync(new URL('../../content/2026.2/phrases.en.json', import.meta.url), 'utf8'));
    const texts: string[] = [];
    const walk = (value: unknown): void => {
      if (typeof value === 'string') texts.push(value);
      else if (typeof value === 'object' && value !== null) Object.values(value).forEach(walk);
    };
    walk([raw, moves.map(({ cautions, evidence }) => [cautions, evidence].flat().map(({ text }) => text))]);
    walk([content.tools.map(({ why }) => why), holds.map(({ reasons }) => reasons)]);
    walk([content.beyond.map(({ text }) => text), content.aftercare.map(({ text }) => text)]);
    const inside = texts.flatMap((text) => text.match(/(?<=[\p{L}\d,;] )\p{Lu}[\p{L}]*/gu) ?? []);
    expect([...new Set(inside.filter((word) => !known.has(word)))]).toEqual([]);
    expect(texts.join(' ')).not.toMatch(/[®™©]/);
  });
});
