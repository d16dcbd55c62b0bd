/** The entries of format 1, as they will be read for ever. */
import * as v from 'valibot';
import { constructs, sides, toldPoints, workingStages, type Ids } from '../content/ids.ts';
import {
  Bore,
  anyText,
  count,
  diameter,
  finite,
  flag,
  length,
  list,
  object,
  oneOf,
  ordinal,
  role,
  screw,
  seal,
  share,
  text,
  time,
  yes,
  zone,
} from './kinds.ts';

/** What format 1 knew of these; format 2 knows more. */
export const threads1 = ['cortical', 'cancellous'] as const;
export const materials1 = ['steel', 'titanium', 'unknown'] as const;
export const answers1 = ['go-on', 'stop', 'called', 'not-available', 'confirmed', 'let-down'] as const;

/** What every entry has. */
export const common1 = {
  n: v.pipe(finite, v.integer('whole'), v.minValue(1, 'from-1')),
  at: time,
  logged: time,
  calledBy: v.optional(role),
  loggedBy: v.optional(role),
  seal: v.optional(seal),
};

/** The entries of format 1, with the ids of one content: every type with its own fields. */
export const fields1 = (ids: Ids) =>
  ({
    'case-opened': {
      label: text,
      zone,
      side: oneOf(sides),
      bone: text,
      construct: oneOf(constructs),
      planned: anyText,
      urgency: v.optional(text),
      placedBy: v.optional(oneOf(['same-team', 'other-team', 'unknown'])),
      placedMonthsAgo: v.optional(length),
      theatreMinutes: v.optional(length),
    },
    'person-listed': { role, who: text },
    'bone-measured': {
      screw: v.optional(screw),
      outer: diameter,
      cortex: diameter,
      source: oneOf(['measured', 'assumed']),
    },
    'screw-listed': {
      screw,
      diameter,
      thread: oneOf(threads1),
      locking: flag,
      drive: oneOf(ids.drives),
      driveSize: v.optional(diameter),
      material: oneOf(materials1),
      length: v.nullable(length),
      cortices: v.picklist([1, 2], 'one-or-two'),
      stage: v.optional(oneOf(workingStages)),
    },
    'tool-in-room': {
      tool: oneOf(ids.tools),
      present: flag,
      fits: v.optional(list(diameter)),
      size: v.optional(diameter),
      outer: v.optional(diameter),
      inner: v.optional(diameter),
    },
    'consent-point': { point: oneOf(ids.consent), confirmed: flag },
    'limits-set': {
      boneConsider: v.optional(share),
      boneStop: v.optional(share),
      tourniquetMinutes: v.optional(length),
      theatreMinutes: v.optional(length),
    },
    'work-started': {},
    'screw-called': { screw },
    'move-started': {
      screw,
      move: v.pipe(
        oneOf(ids.moves),
        v.check((id) => id !== 'leave-in', 'left-in-move'),
      ),
      tool: v.optional(oneOf(ids.tools)),
      reverseConfirmed: v.optional(flag),
      bores: v.optional(list(Bore)),
    },
    'move-ended': {
      screw,
      outcome: oneOf(ids.outcomes),
      bores: v.optional(list(Bore)),
      recovered: v.optional(length),
      reachable: v.optional(flag),
      toolJammed: v.optional(flag),
    },
    reassessed: {
      screw,
      checks: object({
        recessCleared: v.optional(flag),
        fullySeated: v.optional(flag),
        inLine: v.optional(flag),
        freshDriver: v.optional(flag),
      }),
    },
    'hold-answered': {
      hold: oneOf(ids.holds),
      screw: v.optional(screw),
      answer: oneOf(answers1),
      reason: v.optional(text),
      onWordOf: v.optional(text),
    },
    found: {
      screw,
      headProud: v.optional(flag),
      shankProud: v.optional(flag),
      tipProud: v.optional(flag),
      corridor: v.optional(flag),
      fragmentLength: v.optional(length),
      nearSurface: v.optional(finite),
    },
    'plate-off': {},
    'colleague-called': { who: v.optional(text) },
    'left-in': {
      screw: v.optional(screw),
      tool: v.optional(oneOf(ids.tools)),
      length: v.nullable(length),
      where: text,
      reason: text,
      toldTo: v.optional(text),
      imageTaken: v.optional(flag),
      decidedBy: v.optional(text),
    },
    'piece-recovered': { screw: v.optional(screw), tool: v.optional(oneOf(ids.tools)), length },
    'tool-damaged': {
      tool: oneOf(ids.tools),
      how: text,
      tipMissing: flag,
      length: v.optional(length),
      kept: v.optional(flag),
    },
    tourniquet: { to: oneOf(['up', 'down']), pressure: v.optional(diameter) },
    images: { shots: count, dose: v.optional(length), doseUnit: v.optional(text) },
    antibiotic: { drug: text, dose: v.optional(text) },
    'blood-loss': { ml: length },
    'washed-out': {},
    'clock-compared': { theatreClock: time },
    'clock-jumped': { seconds: finite },
    'note-field': {
      field: oneOf(ids.noteFields),
      text: v.optional(text),
      notApplicable: v.optional(yes),
    },
    'patient-told': {
      state: oneOf(['told', 'to-be-told']),
      by: text,
      points: list(oneOf(toldPoints)),
    },
    signed: { who: text, role, meaning: text },
    remark: { text, kind: v.optional(oneOf(['addendum', 'correction'])) },
    struck: { entry: ordinal, reason: text },
    'count-answered': {
      by: list(role),
      discrepancy: v.optional(text),
      imageTaken: v.optional(flag),
    },
    'work-ended': {},
    'case-closed': {},
  }) as const;
