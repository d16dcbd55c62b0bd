/** The shapes of everything the trade knows. Data lives in one folder per released version; see `catalog.ts`. */
import * as v from 'valibot';
import { says } from './fault.ts';
import { answers, constructs, stages, workingStages, type Ids, type AnyMoveId } from './ids.ts';

const text = v.pipe(v.string(), v.trim(), v.minLength(1));
/** Id of a row of `sources.json`. */
const source = text;
export const positive = v.pipe(v.number(), v.finite(), v.gtValue(0));

/**
 * How far a figure or statement can be trusted.
 * `seen`: read in the source named; `seen-second-hand`: read in a text that quotes it; `derived`: computed from
 * seen figures; `common-practice`: a fact of the trade without a source; `from-memory`: not read, editable;
 * `department`: set by a department in the place of a released one, never in a release.
 */
export const statuses = [
  'seen',
  'seen-second-hand',
  'derived',
  'common-practice',
  'from-memory',
  'department',
] as const;
export type SourceStatus = (typeof statuses)[number];

export const SourceRow = v.strictObject({
  id: text,
  /** What the figure or statement is, in words. */
  what: text,
  /** Author, year, journal, or standard; "common practice, no source"; "from memory". */
  cite: text,
  status: v.picklist(statuses),
});
export type SourceRow = v.InferOutput<typeof SourceRow>;

export const glance = v.pipe(v.string(), v.minLength(1), v.maxLength(16, says('glance-long')));
export const say = v.pipe(
  v.string(),
  v.minLength(1),
  v.check((line) => line.trim().split(/\s+/).length <= 12, says('say-long')),
);

/** Words for one thing: `label` on a card, `glance` from 3 m, `say` read aloud, `help` one touch away. */
const spoken = v.strictObject({ label: text, glance, say, help: text });
export type Spoken = v.InferOutput<typeof spoken>;

/** A bore to be expected in one wall: the screw's diameter plus so many mm, or the reamer's outer diameter. */
export const ProjectedBore = v.union([
  v.strictObject({ plus: v.number() }),
  v.strictObject({ reamer: v.literal(true) }),
]);
export type ProjectedBore = v.InferOutput<typeof ProjectedBore>;
const walls = v.strictObject({ near: v.optional(ProjectedBore), far: v.optional(ProjectedBore) });

/** What has to hold before some moves are listed. */
export const openings = [
  'head-covered',
  'turned-without-gain',
  'turned-free',
  'moved-then-stuck',
  'partly-threaded',
  'jammed-seat',
] as const;
export type Opening = (typeof openings)[number];

/** Kinds of tools that a hold asks about in their own way. */
export const checkedTools = ['driver', 'gripper', 'cone', 'sleeve'] as const;
export type CheckedTool = (typeof checkedTools)[number];

const cited = v.strictObject({ text, source });
export type Cited = v.InferOutput<typeof cited>;

export const RecessSize = v.strictObject({
  drive: v.picklist(['hexagonal', 'hexalobular']),
  size: positive,
  /** Hexalobular: point to point, ISO 10664; hexagonal: across flats. */
  a: positive,
  /** Hexalobular: across the valleys of the lobes. */
  b: v.nullable(positive),
  source,
});
export type RecessSize = v.InferOutput<typeof RecessSize>;

export const Bone = v.strictObject({ id: text, outer: positive, cortex: positive, source });
export type Bone = v.InferOutput<typeof Bone>;

const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
export const Limits = v.strictObject({
  boneConsider: v.strictObject({ value: share, source }),
  boneStop: v.strictObject({ value: share, source }),
  /** Null: no limit unless one is set for the case. */
  tourniquetMinutes: v.nullable(v.strictObject({ value: positive, source })),
  tourniquetNoticeMinutes: v.strictObject({ value: positive, source }),
  /** Figures by site are shown beside the limit, never used for it. */
  tourniquetBySite: v.array(cited),
  /** While no limit is set, the time is said from so many minutes on, and again each so many. */
  tourniquetReminder: v.optional(v.strictObject({ from: positive, every: positive, source })),
  /** Measured cortex over outer diameter of a humerus under which it is thin: the published cut-off. */
  thinHumerus: v.optional(v.strictObject({ value: share, source })),
  /** The same of any bone under which somebody is asked whether it is thin. */
  thinAsked: v.optional(v.strictObject({ value: share, source })),
  slipKeeps: v.strictObject({ value: share, source }),
  pieceTolerance: v.strictObject({ value: positive, source }),
  reamerWall: v.strictObject({ value: positive, source }),
  /** Outer diameter of an unmeasured reamer: d + `small` up to `smallUpTo`, else d + `large`. */
  reamerPrefill: v.strictObject({ smallUpTo: positive, small: positive, large: positive, source }),
  torsionRate: v.strictObject({ value: positive, source }),
  torsionBand: v.strictObject({ value: share, source }),
  torsionTestedTo: v.strictObject({ value: share, source }),
  /** By how much the band grows on either side for each share of the diameter beyond what was tested. */
  torsionWidens: v.optional(v.strictObject({ value: positive, source })),
});
export type Limits = v.InferOutput<typeof Limits>;

/** A span of minutes: shortest, usual, longest, as a triangle. */
const Minutes = v.strictObject({ low: positive, mid: positive, high: positive, source });

/** What lies beyond the far wall of a bone. `where`: the part of the bone, null for all of it. */
export const Beyond = v.strictObject({ bone: text, where: v.nullable(text), text, source });
export type Beyond = v.InferOutput<typeof Beyond>;

/** A line for the time after, offered to the surgeon. `bone`: null for any. */
export const Aftercare = v.strictObject({
  id: text,
  bone: v.nullable(text),
  /** Of this kind of metal alone; left out: of any. */
  construct: v.optional(v.picklist(constructs)),
  /** Of children alone. */
  patient: v.optional(v.literal('child')),
  text,
  source,
});
export type Aftercare = v.InferOutput<typeof Aftercare>;

/** How high a head is at most, mm, of screws up to a diameter, mm: what a head that is gone may explain of a length. */
export const HeadHeight = v.strictObject({ upTo: positive, height: positive, source });
export type HeadHeight = v.InferOutput<typeof HeadHeight>;

export const Antibiotic = v.strictObject({ id: text, redoseHours: v.nullable(positive), dose: text, source });
export type Antibiotic = v.InferOutput<typeof Antibiotic>;

/** A hazardous situation with what keeps it from harm, and the tests that prove it. */
export const Hazard = v.strictObject({
  /** `Z1` … in a release; `D1` … added by a department. */
  id: v.pipe(v.string(), v.regex(/^[ZD]\d+$/)),
  situation: text,
  cause: text,
  harm: text,
  control: text,
  /** Ids as they stand in brackets in test names, such as `Z3`; every one must be found in a test. None for `D` ids. */
  tests: v.array(text),
});
export type Hazard = v.InferOutput<typeof Hazard>;

function build(ids: Ids) {
  /** One need of a move: any one of `anyOf` serves; a driver is matched against the recess, and any one of `or` serves as well. */
  const ToolGroup = v.union([
    v.strictObject({ anyOf: v.pipe(v.array(v.picklist(ids.tools)), v.minLength(1)) }),
    v.strictObject({
      driver: v.picklist(['matched', 'oversize']),
      or: v.optional(v.pipe(v.array(v.picklist(ids.tools)), v.minLength(1))),
    }),
  ]);

  const Move = v.strictObject({
    id: v.picklist(ids.moves),
    /** Stages the move is made for. */
    fits: v.array(v.picklist(workingStages)),
    /** Also open on a seated screw once `turn-out` has ended there without gain. */
    fitsJammedSeat: v.optional(v.boolean(), false),
    needs: v.array(ToolGroup),
    /** Tools that help but are not required. */
    helps: v.optional(v.array(v.picklist(ids.tools)), []),
    /** What the move is made for: the screw out, or a stage reached on purpose. */
    aim: v.picklist(['out', 'head-sheared', 'left-in']),
    turnsInRecess: v.boolean(),
    /** Cannot be made while a jammed tool fills the recess. */
    needsRecess: v.boolean(),
    shavings: v.boolean(),
    heat: v.boolean(),
    /** The drive has to run in reverse (hold H5). */
    reverse: v.boolean(),
    turn: v.picklist(['anticlockwise', 'none']),
    /** Expected bores by the stage the move starts from; absent = no more than the screw's own hole. */
    projection: v.optional(v.record(v.picklist(workingStages), walls), {}),
    /** The likeliest outcomes: the first three are the largest targets. Empty for `leave-in`, which nobody starts. */
    likely: v.array(v.picklist(ids.outcomes)),
    /** It may be made on a screw that lies under a plate that is on. */
    underPlate: v.optional(v.boolean(), true),
    /** Its place within a stage, where that is not the list's; compared with `order` of the others, ties by the list. */
    order: v.optional(v.record(v.picklist(workingStages), positive), {}),
    /** It is listed only once one of these holds; empty: always. */
    opens: v.optional(v.array(v.picklist(openings)), []),
    /** It makes another move ready: its good end is `set-up-done`. */
    prepares: v.optional(v.boolean(), false),
    /** The bone that it costs is asked before it, and not known until said. */
    boneAsked: v.optional(v.boolean(), false),
    /** Closed for every screw: the department does not make this move. */
    notUsedHere: v.optional(v.boolean(), false),
    cautions: v.pipe(v.array(cited), v.minLength(1)),
    evidence: v.array(cited),
    source,
  });

  const Tool = v.strictObject({
    id: v.picklist(ids.tools),
    gripper: v.optional(v.boolean(), false),
    /** Which measures describe one such tool, in the order they are asked. */
    measures: v.array(v.picklist(['fits', 'size', 'outer', 'inner'])),
    /** Plain reason it matters. */
    why: text,
    source,
  });

  /** A screw size of the trade: major, core and head diameter, drive and pitch in mm; torque in N m. */
  const ScrewSize = v.strictObject({
    id: text,
    diameter: positive,
    thread: v.picklist(['cortical', 'cancellous', 'partly']),
    locking: v.boolean(),
    core: positive,
    head: v.nullable(positive),
    pitch: v.nullable(positive),
    drives: v.array(v.strictObject({ drive: v.picklist(ids.drives), size: positive })),
    breakingTorque: v.nullable(positive),
    source,
  });

  const Hold = v.strictObject({
    /** Number of the hold point, `H1` and on. */
    number: v.pipe(v.string(), v.regex(/^H\d+$/)),
    id: v.union([v.picklist(ids.holds), v.picklist(ids.notices)]),
    kind: v.picklist(['hold', 'notice']),
    /** `screw` holds stand on one screw, `case` holds on the whole. */
    of: v.picklist(['screw', 'case']),
    /** What is asked one by one; `with`: of one kind of tool. */
    checks: v.optional(v.array(v.strictObject({ id: text, with: v.optional(v.picklist(checkedTools)) })), []),
    /** Answers offered, in order. */
    answers: v.array(v.picklist(answers)),
    /** Short reasons for going on, offered by touch, in words of the theatre. */
    reasons: v.array(text),
    /** What is known of why it asks; shown beside the question, never part of it. */
    evidence: v.optional(v.array(cited), []),
    source,
  });

  /** How often a move ends how, and how long it takes. The first row that fits a screw counts for it. */
  const Rate = v.strictObject({
    move: v.picklist(ids.moves),
    when: v.optional(v.strictObject({ locking: v.boolean(), upTo: v.optional(positive) })),
    outcomes: v.pipe(
      v.array(v.strictObject({ outcome: v.picklist(ids.outcomes), value: share, source })),
      v.check((rows) => Math.abs(rows.reduce((sum, { value }) => sum + value, 0) - 1) < 1e-9, says('shares-not-1')),
    ),
    minutes: Minutes,
  });

  const Rates = v.strictObject({
    moves: v.array(Rate),
    /** Share of broken shanks whose stump can still be reached. */
    shankReachable: v.strictObject({ value: share, source }),
    /** Minutes of the operation besides the moves: to the metal and out again. */
    setup: Minutes,
    /** What the whole operation is stretched by: the team, the approach, the scar. Triangular, without a unit. */
    pace: v.strictObject({ low: positive, mid: positive, high: positive, source }),
    /** How many tries of its own the released rates weigh as much as, when a department's counts are taken in. */
    priorTries: v.strictObject({ value: positive, source }),
    /** Fewer tries than this are said to be few. */
    fewTries: v.strictObject({ value: positive, source }),
  });

  const Consent = v.strictObject({ id: v.picklist(ids.consent), source });

  const Phrases = v.strictObject({
    language: text,
    stages: v.strictObject(v.entriesFromList(stages, spoken)),
    moves: v.strictObject({
      ...v.entriesFromList(ids.moves, spoken),
      /** Something that no release lists: worded by the build. */
      other: v.optional(spoken, { label: 'other', glance: 'other', say: 'other', help: 'other' }),
    }),
    holds: v.strictObject(v.entriesFromList([...new Set([...ids.holds, ...ids.notices])], spoken)),
    outcomes: v.strictObject(v.entriesFromList(ids.outcomes, v.strictObject({ label: text, glance, sentence: text }))),
    /** `shank-broke` is two answers on the screen. */
    shankBroke: v.strictObject({ reachable: text, notReachable: text }),
    closed: v.strictObject(v.entriesFromList(ids.closed, text)),
    tools: v.strictObject(v.entriesFromList(ids.tools, v.strictObject({ label: text, plural: text }))),
    /** What a hold asks one by one, by id. */
    checks: v.optional(v.record(text, text), {}),
    consent: v.strictObject(v.entriesFromList(ids.consent, v.strictObject({ label: text, help: text }))),
    noteFields: v.strictObject(v.entriesFromList(ids.noteFields, text)),
    drives: v.strictObject(v.entriesFromList(ids.drives, text)),
    /** The standing cautions, in the order they are shown. */
    cautions: v.pipe(v.array(text), v.minLength(8)),
    /** Everything else, by key. */
    words: v.record(text, text),
  });

  /** A tool with its real sizes, mm; `size` as a screw's `driveSize`. */
  const SizedTool = v.strictObject({
    tool: v.picklist(ids.tools),
    fits: v.optional(v.array(positive)),
    size: v.optional(positive),
    outer: v.optional(positive),
    inner: v.optional(positive),
  });

  /** Whose content this is when a department's own is laid over the released one. */
  const Department = v.strictObject({
    /** The released version beneath. */
    base: text,
    name: text,
    changedOn: v.pipe(v.string(), v.isoDate()),
    reason: text,
    policy: v.array(text),
    /** The version over an earlier release that it was carried over from. */
    carriedFrom: v.optional(text),
    toolSets: v.array(v.strictObject({ name: text, tools: v.pipe(v.array(SizedTool), v.minLength(1)) })),
  });

  const Content = v.strictObject({
    version: text,
    /** Which rules of the ladder it is written for: 2 counts tries by tool, knows the plate, and asks with more holds. */
    ladder: v.optional(v.picklist([1, 2]), 1),
    /** Checked before the rest, which is checked by them. */
    ids: v.custom<Ids>(() => true),
    /** Date of the last review of this content, ISO 8601. */
    reviewed: v.pipe(v.string(), v.isoDate()),
    expires: v.pipe(v.string(), v.isoDate()),
    /** Sentence that says the order is to be confirmed locally. */
    orderStatus: text,
    moves: v.array(Move),
    tools: v.array(Tool),
    screws: v.array(ScrewSize),
    recesses: v.array(RecessSize),
    bones: v.array(Bone),
    limits: Limits,
    holds: v.array(Hold),
    consent: v.array(Consent),
    antibiotics: v.array(Antibiotic),
    rates: Rates,
    beyond: v.optional(v.array(Beyond), []),
    aftercare: v.optional(v.array(Aftercare), []),
    /** From the thinnest up; above them, and without any, 8 mm count. */
    headHeights: v.optional(v.array(HeadHeight), []),
    /** Those that a department added; those of a release stand beside it (`hazards.ts`), since no screen shows them. */
    hazards: v.optional(v.array(Hazard), []),
    sources: v.array(SourceRow),
    phrases: Phrases,
    /** Absent in a release. */
    department: v.optional(Department),
  });

  return { ToolGroup, Move, Tool, ScrewSize, Hold, Rate, Rates, Consent, Phrases, SizedTool, Department, Content };
}

type Schemas = ReturnType<typeof build>;
const built = new WeakMap<Ids, Schemas>();

/** The shapes of what a release lists, by its own ids. Built once for the same lists. */
export function schemasOf(ids: Ids): Schemas {
  let schemas = built.get(ids);
  if (!schemas) built.set(ids, (schemas = build(ids)));
  return schemas;
}

export type ToolGroup = v.InferOutput<Schemas['ToolGroup']>;
/** A move as a release lists it; `other`, which none lists, is made by `moveOf`. */
export type Move = Omit<v.InferOutput<Schemas['Move']>, 'id'> & { id: AnyMoveId };
export type Tool = v.InferOutput<Schemas['Tool']>;
export type ScrewSize = v.InferOutput<Schemas['ScrewSize']>;
export type Hold = v.InferOutput<Schemas['Hold']>;
export type Rate = v.InferOutput<Schemas['Rate']>;
export type Rates = v.InferOutput<Schemas['Rates']>;
export type Phrases = v.InferOutput<Schemas['Phrases']>;
export type Department = v.InferOutput<Schemas['Department']>;
export type Content = v.InferOutput<Schemas['Content']>;
