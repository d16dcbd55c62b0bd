/**
 * The shape of a department's own content: what it puts in the place of figures and words of one released version, and
 * what it adds. A field that is not here cannot be changed by it.
 */
import * as v from 'valibot';
import { says } from './fault.ts';
import { stages, type Ids } from './ids.ts';
import { glance, Limits, positive, say, schemasOf, SourceRow } from './types.ts';

export const overlayFormat = 'counterturn-content';
export const overlayFormatVersion = 1;

/** Base, a short name and a number that counts up, then the first of the file's own checksum. */
export const versionPattern =
  /^(\d{4}\.\d+(?:-draft)?)\+([a-z][a-z0-9]*(?:-[a-z0-9]+)*)-([1-9]\d{0,3})\.([0-9a-f]{8})$/;

/** Id of a consent point that a department adds. */
const ownPoint = /^own-[a-z0-9]+(?:-[a-z0-9]+)*$/;

/** Characters that break a line, or are not seen. */
const unseen = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Surrogate}/u;
/** No word on a live label that ranks, orders about or soothes. */
const ruled =
  /\b(alarms?|alerts?|monitors?|safe|safely|safety|cleared|recommend\w*|should|must|best|preferred|advis\w*)\b/i;

const line = (most: number) =>
  v.pipe(
    v.string(says('text')),
    v.check((text) => text.trim() !== '' && text.trim() === text, says('line-ends')),
    v.maxLength(most, says('line-long')),
    v.check((text) => !unseen.test(text), says('line-seen')),
  );
const live = <T extends v.GenericSchema<string, string>>(schema: T) =>
  v.pipe(
    schema,
    v.check((text) => !unseen.test(text), says('line-seen')),
    v.check((text) => !ruled.test(text), says('ranked')),
  );

const label = live(line(70));
const help = live(line(240));
const spoken = v.strictObject({
  label: v.optional(label),
  glance: v.optional(live(v.pipe(line(99), glance))),
  say: v.optional(live(v.pipe(line(120), say))),
  help: v.optional(help),
});
const some = <const Ids extends readonly string[], S extends v.GenericSchema>(ids: Ids, schema: S) =>
  v.optional(v.strictObject(v.entriesFromList<Ids, v.OptionalSchema<S, undefined>>(ids, v.optional(schema))));

/** A row of the sources that the department adds. */
const OwnSource = v.strictObject({ ...SourceRow.entries, id: line(60), what: line(240), cite: line(240) });

/** A hazard that the department adds: its own ids, and nothing that a test of this project could prove. */
const OwnHazard = v.strictObject({
  id: v.pipe(v.string(), v.regex(/^D\d+$/, says('hazard-id'))),
  situation: line(240),
  cause: line(240),
  harm: line(240),
  control: line(400),
});

const limit = (name: 'boneConsider' | 'boneStop' | 'tourniquetMinutes' | 'tourniquetNoticeMinutes') =>
  v.optional(name === 'tourniquetMinutes' ? positive : Limits.entries[name].entries.value);

function build(ids: Ids) {
  /** Words in one language in the place of released ones. */
  const OverlayPhrases = v.strictObject({
    stages: some(stages, spoken),
    moves: some(ids.moves, spoken),
    holds: some([...new Set([...ids.holds, ...ids.notices])], spoken),
    outcomes: some(
      ids.outcomes,
      v.strictObject({ label: v.optional(label), glance: v.optional(live(v.pipe(line(99), glance))) }),
    ),
    drives: some(ids.drives, label),
    tools: some(ids.tools, v.strictObject({ label: v.optional(label), plural: v.optional(label) })),
    consent: some(ids.consent, v.strictObject({ label: v.optional(label), help: v.optional(help) })),
  });

  const Overlay = v.strictObject({
    format: v.literal(overlayFormat),
    formatVersion: v.literal(overlayFormatVersion),
    /** The released version that it lies over. */
    base: line(20),
    /** The version that it was carried over from. */
    carriedFrom: v.optional(v.pipe(v.string(), v.regex(versionPattern, says('version-form')))),
    version: v.pipe(v.string(), v.regex(versionPattern, says('version-form'))),
    /** Whose it is, in words. */
    name: line(60),
    changedOn: v.pipe(v.string(), v.isoDate(says('date-form'))),
    reason: line(240),
    /** Rows that are added; ids of released ones are taken. */
    sources: v.optional(v.array(OwnSource), []),
    /** Every move once, in the order in which they are offered; `leave-in` last. */
    order: v.optional(v.array(v.picklist(ids.moves))),
    /** Moves that are not offered here. */
    notUsed: v.optional(v.array(v.picklist(ids.moves)), []),
    /** Shares of the cortical ring 0–1, minutes. */
    limits: v.optional(
      v.strictObject({
        boneConsider: limit('boneConsider'),
        boneStop: limit('boneStop'),
        tourniquetMinutes: limit('tourniquetMinutes'),
        tourniquetNoticeMinutes: limit('tourniquetNoticeMinutes'),
      }),
      {},
    ),
    /** Hours after which a drug is given again, null for never; `dose` only for a drug that is added. */
    antibiotics: v.optional(
      v.array(v.strictObject({ id: line(60), redoseHours: v.nullable(positive), dose: v.optional(line(80)) })),
      [],
    ),
    /** Added; `source` left out is the department itself. */
    cautions: v.optional(
      v.strictObject({
        standing: v.optional(v.array(line(240)), []),
        moves: some(ids.moves, v.array(v.strictObject({ text: live(line(240)), source: v.optional(line(60)) }))),
      }),
      {},
    ),
    hazards: v.optional(v.array(OwnHazard), []),
    /** Local policy, a line each; stands among the standing cautions. */
    policy: v.optional(v.array(line(240)), []),
    /** Consent points of its own, in its own words in every language. */
    consent: v.optional(
      v.array(v.strictObject({ id: v.pipe(line(40), v.regex(ownPoint, says('consent-id'))), label, help })),
      [],
    ),
    /** Offered in every new briefing. */
    toolSets: v.optional(
      v.array(v.strictObject({ name: line(60), tools: v.pipe(v.array(schemasOf(ids).SizedTool), v.minLength(1)) })),
      [],
    ),
    /** By language, such as `en`. */
    phrases: v.optional(
      v.record(v.pipe(v.string(), v.regex(/^[a-z]{2,3}$/, says('language-form'))), OverlayPhrases),
      {},
    ),
  });

  return { OverlayPhrases, Overlay };
}

type Schemas = ReturnType<typeof build>;
const built = new WeakMap<Ids, Schemas['Overlay']>();

/** The shape of a file over a release with these ids. Built once for the same lists. */
export function overlaySchema(ids: Ids): Schemas['Overlay'] {
  let schema = built.get(ids);
  if (!schema) built.set(ids, (schema = build(ids).Overlay));
  return schema;
}

export type OverlayPhrases = v.InferOutput<Schemas['OverlayPhrases']>;
export type Overlay = v.InferOutput<Schemas['Overlay']>;
/** As it stands in a file: what is left out is empty. */
export type OverlayFile = v.InferInput<Schemas['Overlay']>;
