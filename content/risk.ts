/** The risk file of a release: what could go wrong, what keeps it from harm, and which tests prove it. */
import * as v from 'valibot';
import file from './2026.2/hazards.json' with { type: 'json' };

const text = v.pipe(v.string(), v.trim(), v.minLength(1));
const level = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(5));
const scale = v.strictObject({ '1': text, '2': text, '3': text, '4': text, '5': text });

/**
 * What keeps a hazard from harm. `design`: it cannot happen so; `protective`: somebody is stopped or shown it;
 * `information`: words alone.
 */
export const controlKinds = ['design', 'protective', 'information'] as const;

const Control = v.strictObject({
  kind: v.picklist(controlKinds),
  text,
  /** Ids as they stand in brackets in test names, such as `Z3`. None: nothing proves it yet. */
  tests: v.array(v.pipe(v.string(), v.regex(/^Z\d+$/))),
});

/** Control that is more than words and that a test proves. */
const isBuilt = ({ kind, tests }: v.InferOutput<typeof Control>) => kind !== 'information' && tests.length > 0;

const RiskRow = v.pipe(
  v.strictObject({
    id: v.pipe(v.string(), v.regex(/^Z\d+$/)),
    situation: text,
    /** How one thing leads to the next. */
    sequence: text,
    cause: text,
    harm: text,
    severity: level,
    /** Probability without the controls. */
    before: level,
    controls: v.pipe(v.array(Control), v.minLength(1)),
    /** Probability with them. */
    after: level,
    /** What remains, in words; also what is not built yet, and what is words alone. */
    residual: text,
    /** Manufacturer or hospital that accepts what remains; empty until one does. */
    acceptedBy: v.pipe(v.string(), v.trim()),
  }),
  v.check(({ before, after }) => after <= before, 'a control makes nothing likelier'),
  v.check(
    ({ before, after, controls }) => after === before || controls.some(isBuilt),
    'words alone, and what is not built, make nothing less likely',
  ),
);
export type RiskRow = v.InferOutput<typeof RiskRow>;

export const RiskFile = v.strictObject({
  scales: v.strictObject({ severity: scale, probability: scale }),
  /** Whose figures these are. */
  status: text,
  rows: v.array(RiskRow),
});
export type RiskFile = v.InferOutput<typeof RiskFile>;

const files: Readonly<Record<string, unknown>> = { '2026.2-draft': file, '2026.2': file };

/**
 * The risk file of a version, checked. No screen shows it, so that it stands outside the app.
 *
 * @returns undefined for a version that has none (2026.1 has a list of hazards: `hazards.ts`)
 * @throws ValiError when the file is faulty
 * @example riskFileOf('2026.2-draft')?.rows[0]?.id // 'Z1'
 */
export const riskFileOf = (version: string): RiskFile | undefined =>
  Object.hasOwn(files, version) ? v.parse(RiskFile, files[version]) : undefined;
