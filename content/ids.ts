/**
 * Ids that case files, machines and screens share. What a release may add or drop stands in that release
 * (`content/VERSION/ids.ts`); what the statecharts and the case file's format are built of stands here.
 */
import type { LaterIds, releases } from './releases/index.ts';

/** Stages in which there is still metal to get out, from the mildest failure to the deepest. */
export const workingStages = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const;
export type WorkingStage = (typeof workingStages)[number];

export const endStages = ['out', 'left-in'] as const;
export const stages = [...workingStages, ...endStages] as const;
export type Stage = (typeof stages)[number];

export const roles = ['surgeon', 'assistant', 'anaesthetist', 'scrub', 'circulating', 'other'] as const;
export type Role = (typeof roles)[number];

export const sides = ['left', 'right', 'midline'] as const;
export const constructs = ['plate', 'nail', 'screws'] as const;
export const threads = ['cortical', 'cancellous', 'partly'] as const;
export const materials = ['steel', 'titanium', 'cobalt-chromium', 'unknown'] as const;
export const answers = [
  'go-on',
  'stop',
  'called',
  'not-available',
  'confirmed',
  'let-down',
  'scrubbed',
  'found',
  'not-found',
  'later',
  'heeded',
  'yes',
  'no',
] as const;
export type Answer = (typeof answers)[number];
/** What a part of the metal besides the screws is. */
export const partKinds = [
  'plate',
  'nail',
  'end-cap',
  'washer',
  'barrel',
  'coupling-screw',
  'nut',
  'wire',
  'cable',
  'pin',
  'staple',
  'foil',
  'guide-wire',
  'other',
] as const;
export type PartKind = (typeof partKinds)[number];
/** Where the head of a screw went that came off. */
export const headPlaces = ['piece', 'in-plate', 'shavings', 'partly', 'not-seen'] as const;
export type HeadPlace = (typeof headPlaces)[number];
/** Why work is stopped; all but the last three are grounds to look for nothing more. */
export const stopReasons = [
  'anaesthesia',
  'patient',
  'bleeding',
  'bone',
  'infection',
  'time',
  'planned',
  'other',
] as const;
export type StopReason = (typeof stopReasons)[number];
export const eventKinds = [
  'bleeding',
  'pause',
  'incision-extended',
  'bone-broke',
  'not-healed',
  'infection-found',
  'samples-sent',
  'glove-changed',
  'person-arrived',
  'piece-dropped',
  'image-review',
  'other',
] as const;
export type EventKind = (typeof eventKinds)[number];
export const partMoves = [
  'lift',
  'lever-plate',
  'cap-off',
  'seat-extractor',
  'hammer-nail',
  'hook-from-below',
] as const;
export type PartMove = (typeof partMoves)[number];
/** What an image showed of metal. */
export const imageFindings = ['clear', 'metal-seen', 'not-sure', 'not-taken'] as const;
export type ImageFinding = (typeof imageFindings)[number];
/** Where the length of a piece comes from. */
export const lengthOrigins = ['measured', 'image', 'difference'] as const;
export type LengthOrigin = (typeof lengthOrigins)[number];
export const toldPoints = ['material', 'size', 'place', 'risks', 'mri'] as const;

/** What a release lists by ids of its own. */
export const idKinds = [
  'moves',
  'tools',
  'outcomes',
  /** Holds stop the ordinary next tap until somebody answers; notices only say something. */
  'holds',
  'notices',
  /** Why a move is closed. */
  'closed',
  'consent',
  'noteFields',
  'drives',
] as const;
export type IdKind = (typeof idKinds)[number];

type Released = (typeof releases)[keyof typeof releases]['ids'] | LaterIds;
type Id<K extends IdKind> = Released[K][number];

/**
 * Statically any id of any release in `content/releases/index.ts`: one line there widens all of these. At run time each
 * id is checked against the lists of the one release that a case was written with (`content.ids`), so that what comes
 * from a file (`readCase`, `addRelease`) may hold ids that no type here names.
 */
export type MoveId = Id<'moves'>;
/** Also `other`: something that no release lists, told in words. */
export type AnyMoveId = MoveId | 'other';
export type ToolId = Id<'tools'>;
export type Outcome = Id<'outcomes'>;
export type HoldId = Id<'holds'>;
export type NoticeId = Id<'notices'>;
export type ClosedReason = Id<'closed'>;
export type ConsentId = Id<'consent'>;
export type NoteField = Id<'noteFields'>;
export type Drive = Id<'drives'>;

/** The ids of one release, each list in its order. */
export type Ids = { readonly [K in IdKind]: readonly Id<K>[] };

/** Ids that the rules themselves name: a release may lack any other, never one of these. */
export const ruleIds = {
  moves: ['turn-out', 'leave-in'],
  tools: [
    'driver-hexagonal',
    'driver-hexalobular',
    'driver-cruciform',
    'driver-slotted',
    'hard-metal-drill',
    'hollow-reamer',
    'narrow-forceps',
  ],
  outcomes: [
    'out',
    'moving',
    'no-change',
    'slipped',
    'head-sheared',
    'shank-broke',
    'tool-broke',
    'tool-jammed',
    'set-up-done',
  ],
  holds: [
    'reassess',
    'second-surgeon',
    'reverse',
    'bone-consider',
    'bone-stop',
    'hard-metal',
    'tourniquet',
    'time',
    'shavings',
    'count',
  ],
  notices: ['consider-trephine', 'heat', 'tourniquet'],
  closed: [
    'does-not-fit',
    'locked-flush',
    'not-proud',
    'needs-reaming',
    'slipped',
    'used-up',
    'tool-missing',
    'hold-open',
    'not-used-here',
  ],
  consent: [],
  noteFields: [],
  drives: ['unknown'],
} as const satisfies Ids;
