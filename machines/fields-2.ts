/** The entries of format 2: those of format 1 with what was asked for besides, and the types that it brought. */
import * as v from 'valibot';
import {
  answers,
  eventKinds,
  headPlaces,
  imageFindings,
  lengthOrigins,
  materials,
  partKinds,
  partMoves,
  sides,
  constructs,
  stopReasons,
  threads,
  workingStages,
  type Ids,
} from '../content/ids.ts';
import { common1, fields1 } from './fields-1.ts';
import {
  Bore,
  count,
  diameter,
  finite,
  flag,
  length,
  list,
  object,
  oneOf,
  ordinal,
  part,
  role,
  screw,
  seal,
  text,
  yes,
  zone,
} from './kinds.ts';

const yesNoUnknown = oneOf(['yes', 'no', 'not-known']);
const lengthHow = v.optional(oneOf(lengthOrigins));
const head = v.optional(oneOf(headPlaces));
const recess = v.optional(oneOf(['damaged', 'sound', 'not-seen']));
const turned = v.optional(oneOf(['screw', 'driver', 'not-known']));
const rules = ordinal;

/** What every entry has. `typed`: its time was typed from the clock on the wall of the theatre. */
export const common2 = { ...common1, typed: v.optional(yes) };

/** What may be corrected of a case once it is open; the wording is that of its opening. */
const placedBy = v.optional(oneOf(['same-team', 'other-team', 'unknown']));
const limb = v.optional(oneOf(['upper', 'lower', 'foot', 'trunk', 'not-known']));
const patient = v.optional(oneOf(['adult', 'child', 'not-known']));
const fragile = v.optional(v.nullable(flag));

/** The entries of format 2, with the ids of one content: every type with its own fields. */
export function fields2(ids: Ids) {
  const one = fields1(ids);
  const tool = oneOf(ids.tools);
  return {
    ...one,
    'case-opened': {
      ...one['case-opened'],
      placedBy,
      limb,
      patient,
      fragile,
      rules: v.optional(rules),
      contentVersion: v.optional(text),
      purpose: v.optional(oneOf(['removal', 'put-in'])),
    },
    'bone-measured': {
      ...one['bone-measured'],
      source: oneOf(['measured', 'assumed', 'film']),
      plusMinus: v.optional(length),
      place: v.optional(oneOf(['shaft', 'near-joint', 'neck', 'not-known'])),
    },
    'screw-listed': {
      ...one['screw-listed'],
      diameter: v.nullable(diameter),
      thread: v.nullable(oneOf(threads)),
      locking: v.nullable(flag),
      material: oneOf(materials),
      cortices: v.nullable(v.picklist([1, 2], 'one-or-two')),
      stage: v.optional(oneOf(workingStages)),
      form: v.optional(oneOf(['solid', 'cannulated', 'headless'])),
      washer: v.optional(flag),
      underPlate: v.optional(flag),
    },
    'consent-point': {
      ...one['consent-point'],
      toldTo: v.optional(oneOf(['before', 'patient-awake', 'relative'])),
    },
    'move-started': {
      ...one['move-started'],
      move: v.pipe(
        oneOf([...ids.moves, 'other'] as const),
        v.check((id) => id !== 'leave-in', 'left-in-move'),
      ),
      what: v.optional(text),
    },
    'move-ended': {
      ...one['move-ended'],
      start: v.optional(ordinal),
      lengthHow,
      whole: v.optional(flag),
      head,
      depth: v.optional(length),
      recess,
      turned,
    },
    reassessed: {
      screw,
      checks: object({
        // Of a driver.
        recessCleared: v.optional(flag),
        fullySeated: v.optional(flag),
        inLine: v.optional(flag),
        freshDriver: v.optional(flag),
        // Of a gripper, a conical extractor, a sleeve.
        jawsSquare: v.optional(flag),
        edgeFree: v.optional(flag),
        inAxis: v.optional(flag),
        deepEnough: v.optional(flag),
        shankBare: v.optional(flag),
      }),
    },
    'hold-answered': {
      ...one['hold-answered'],
      answer: oneOf(answers),
      checks: v.optional(v.record(text, yesNoUnknown, 'object')),
      tip: v.optional(ordinal),
      tool: v.optional(tool),
      length: v.optional(length),
      lengthHow,
      imageTaken: v.optional(flag),
      /** Screws of a part: how many an image shows, and how many are out. */
      seen: v.optional(count),
      out: v.optional(count),
    },
    found: {
      ...one.found,
      shankStands: v.optional(finite),
      headCovered: v.optional(flag),
      /** The long opening at its level runs into that at another screw. */
      openingsMeet: v.optional(flag),
    },
    'plate-off': { part: v.optional(part) },
    'left-in': { ...one['left-in'], lengthHow, tip: v.optional(ordinal) },
    'piece-recovered': {
      ...one['piece-recovered'],
      length: v.optional(length),
      lengthHow,
      whole: v.optional(yes),
      complete: v.optional(flag),
      tip: v.optional(ordinal),
    },
    'tool-damaged': { ...one['tool-damaged'], lengthHow },
    'clock-compared': { ...one['clock-compared'], source: v.optional(oneOf(['wall', 'station'])) },
    signed: { ...one.signed, rules: v.optional(rules), textHash: v.optional(seal) },
    'count-answered': {
      ...one['count-answered'],
      image: v.optional(oneOf(imageFindings)),
      decidedBy: v.optional(text),
    },

    'format-raised': { to: v.literal(2, 'exactly-2'), rules },
    'case-corrected': {
      side: v.optional(oneOf(sides)),
      bone: v.optional(text),
      construct: v.optional(oneOf(constructs)),
      zone: v.optional(zone),
      label: v.optional(text),
      placedBy,
      placedMonthsAgo: v.optional(length),
      limb,
      patient,
      fragile,
      reason: text,
    },
    resumed: { device: text, gap: oneOf(['known', 'not-known']) },
    'at-tablet': { role, who: v.optional(text) },
    'part-listed': {
      part,
      kind: oneOf(partKinds),
      what: v.optional(text),
      length: v.optional(length),
      pieces: v.optional(ordinal),
    },
    'part-ended': {
      part,
      piece: v.optional(ordinal),
      end: oneOf(['out', 'left-in', 'not-found']),
      complete: v.optional(flag),
      where: v.optional(text),
      reason: v.optional(text),
      imageTaken: v.optional(flag),
    },
    'put-in': {
      part: v.optional(part),
      screw: v.optional(screw),
      kind: text,
      length: v.optional(length),
      where: text,
    },
    'part-move': {
      part,
      move: oneOf(partMoves),
      tool: v.optional(tool),
      outcome: v.optional(oneOf(['moving', 'out', 'no-change', 'tool-broke', 'bone-broke'])),
    },
    destroyed: {
      screw,
      what: oneOf(['head', 'shank', 'all']),
      how: oneOf(['shavings', 'burr']),
      length: v.optional(length),
      lengthHow,
    },
    'head-seen': { screw, head: oneOf(headPlaces), part: v.optional(part), piece: v.optional(ordinal) },
    reassigned: {
      entries: v.optional(list(ordinal)),
      screw: v.optional(screw),
      swap: v.optional(v.strictTuple([screw, screw], 'list')),
      from: v.optional(ordinal),
    },
    stopped: { reason: v.optional(oneOf(stopReasons)), text: v.optional(text) },
    deferred: { screw },
    event: {
      kind: oneOf(eventKinds),
      screw: v.optional(screw),
      where: v.optional(text),
      text: v.optional(text),
    },
    'move-answered': {
      of: ordinal,
      recess,
      head,
      turned,
      bores: v.optional(list(Bore)),
      depth: v.optional(length),
    },
    'length-answered': {
      screw,
      answer: oneOf(['broke', 'listed-wrong', 'lost']),
      reachable: v.optional(flag),
    },
    checked: {
      what: oneOf(['loosen-first', 'first-turn', 'extractor-on', 'eyes-and-swabs']),
      screw: v.optional(screw),
      size: v.optional(diameter),
    },
    aftercare: {
      line: v.optional(text),
      text: v.optional(text),
      state: oneOf(['accepted', 'changed', 'dropped']),
    },
    'hole-seen': { where: oneOf(['off-plate', 'end-of-metal']), diameter, screw: v.optional(screw) },
  } as const;
}
