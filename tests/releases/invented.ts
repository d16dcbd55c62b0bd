/**
 * A release, a format of the case file and rules that nobody ever released: each has something that 2026.1, format 1
 * and rules 1 lack, and the release lacks something that 2026.1 has. Registered by whoever imports this.
 */
import * as v from 'valibot';
import { addRelease } from '../../content/catalog.ts';
import { release2026_1 as known } from '../../content/releases/2026.1.ts';
import { common2, fields2 } from '../../machines/fields-2.ts';
import { ties2 } from '../../machines/ties.ts';
import { addFormat, formatOf } from '../../machines/formats.ts';
import { ruleVersions } from '../../machines/fold.ts';

export const inventedVersion = '2099.1';

const without = <T extends string>(ids: readonly T[], ...dropped: string[]) =>
  ids.filter((id) => !dropped.includes(id));
const less = <T extends object>(words: T, ...dropped: string[]) =>
  Object.fromEntries(Object.entries(words).filter(([id]) => !dropped.includes(id)));
const rows = <T extends { id: string }>(all: readonly T[], ...dropped: string[]) =>
  all.filter(({ id }) => !dropped.includes(id));
const one = <T extends { id: string }>(all: readonly T[], id: string): T =>
  all.find((row) => row.id === id) ?? (all[0] as T);

const { ids, moves, tools, holds, consent, phrases, rates } = known;
const likeMove = one(moves, 'grip-head');
const likeRate = rates.moves.find(({ move }) => move === 'grip-head') as (typeof rates.moves)[number];

export const invented = {
  ...known,
  version: inventedVersion,
  ids: {
    ...ids,
    moves: [...without(ids.moves, 'push-through', 'leave-in'), 'warm-head', 'leave-in'],
    tools: ['warming-iron', ...without(ids.tools, 'punch', 'bolt-cutter')],
    outcomes: [...ids.outcomes, 'half-out'],
    holds: [...ids.holds, 'second-look'],
    consent: [...without(ids.consent, 'at-patients-request'), 'may-be-warmed'],
    noteFields: [...without(ids.noteFields, 'drains'), 'skin-marks'],
  },
  moves: [
    ...rows(moves, 'push-through', 'leave-in').map((move) => ({
      ...move,
      needs: move.needs.map((need) =>
        'anyOf' in need && need.anyOf ? { anyOf: need.anyOf.filter((id) => id !== 'bolt-cutter') } : need,
      ),
    })),
    {
      ...likeMove,
      id: 'warm-head',
      fits: ['recess-stripped'],
      needs: [{ anyOf: ['warming-iron'] }],
      likely: ['out', 'half-out', 'no-change'],
    },
    one(moves, 'leave-in'),
  ],
  tools: [{ ...one(tools, 'mallet'), id: 'warming-iron' }, ...rows(tools, 'punch', 'bolt-cutter')],
  holds: [...holds, { ...one(holds, 'reassess'), id: 'second-look', number: 'H13' }],
  consent: [...rows(consent, 'at-patients-request'), { ...one(consent, 'may-stay'), id: 'may-be-warmed' }],
  rates: {
    ...rates,
    moves: [
      ...rates.moves.filter(({ move }) => move !== 'push-through'),
      {
        move: 'warm-head',
        outcomes: ['out', 'half-out', 'no-change'].map((outcome, i) => ({
          outcome,
          value: [0.5, 0.2, 0.3][i] as number,
          source: 'rate-from-memory',
        })),
        minutes: likeRate.minutes,
      },
    ],
  },
  phrases: {
    ...phrases,
    moves: {
      ...less(phrases.moves, 'push-through'),
      'warm-head': { label: 'Warm the head', glance: 'warm the head', say: 'Warm the head.', help: 'Invented.' },
    },
    tools: {
      ...less(phrases.tools, 'punch', 'bolt-cutter'),
      'warming-iron': { label: 'warming iron', plural: 'warming irons' },
    },
    outcomes: {
      ...phrases.outcomes,
      'half-out': { label: 'Half of it came', glance: 'half out', sentence: 'screw {screw} came out by half' },
    },
    holds: {
      ...phrases.holds,
      'second-look': { label: 'Look twice', glance: 'look twice', say: 'Look twice.', help: 'Invented.' },
    },
    consent: {
      ...less(phrases.consent, 'at-patients-request'),
      'may-be-warmed': { label: 'The head may be warmed', help: 'Invented.' },
    },
    noteFields: { ...less(phrases.noteFields, 'drains'), 'skin-marks': 'Marks on the skin' },
  },
};

/** The format has one type of entry more, says so at the opening, and reads an old spelling of a drug as the new one. */
export const inventedFormat = {
  number: 3,
  header: ['contentVersion', 'entries', 'head', 'rules'],
  common: common2,
  ties: ties2,
  entries: (own: Parameters<typeof fields2>[0]) => {
    const fields = fields2(own);
    return {
      ...fields,
      'case-opened': { ...fields['case-opened'], writtenIn: v.optional(v.literal(3)) },
      'photo-taken': { of: v.pipe(v.string(), v.minLength(1)) },
    };
  },
  from: {
    name: 'drugs by their short names',
    begins: (entry: Readonly<Record<string, unknown>>) => entry.type === 'case-opened' && entry.writtenIn === 3,
    entry: (entry) =>
      entry.type === 'antibiotic' && entry.drug === 'cefazolinum' ? { ...entry, drug: 'cefazolin' } : entry,
  },
} satisfies NonNullable<ReturnType<typeof formatOf>>;

const first = ruleVersions.current();

/** The rules hear a photo, and leave all else as it was. */
export const inventedRules = {
  ...first,
  number: 3,
  name: 'a photo is heard',
  apply: (...[state, taken]: Parameters<typeof first.apply>) =>
    (taken.entry.type as string) === 'photo-taken' ? {} : first.apply(state, taken),
};

addRelease(invented);
addFormat(inventedFormat);
ruleVersions.add(inventedRules);
