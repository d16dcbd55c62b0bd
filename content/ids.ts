/**
 * The closed lists of ids that case files, machines and screens share.
 * Their order is part of the case file's format: tool sets are compared in the order of `toolIds`.
 */
export const toolIds = [
  'driver-hexagonal',
  'driver-hexalobular',
  'driver-cruciform',
  'driver-slotted',
  'pick',
  'mallet',
  'metal-foil',
  'head-gripper',
  'locking-pliers',
  'retired-rongeur',
  'conical-extractor',
  't-handle',
  'hard-metal-drill',
  'reverse-tap',
  'metal-cutting-burr',
  'metal-cutting-saw',
  'bolt-cutter',
  'gouge',
  'hollow-reamer',
  'extraction-sleeve',
  'reversing-drive',
  'punch',
  'image-intensifier',
  'fine-suction',
  'irrigation',
  'narrow-forceps',
] as const;
export type ToolId = (typeof toolIds)[number];

export const moveIds = [
  'turn-out',
  'reseat-driver',
  'pack-recess',
  'drive-oversize',
  'grip-head',
  'conical-extractor',
  'reverse-tap',
  'free-plate',
  'slot-head',
  'drill-head-off',
  'grip-shank',
  'gouge-and-grip',
  'far-side',
  'push-through',
  'hollow-ream',
  'extraction-sleeve',
  'burr-out',
  'leave-in',
] as const;
export type MoveId = (typeof moveIds)[number];

/** Stages in which there is still metal to get out, from the mildest failure to the deepest. */
export const workingStages = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const;
export type WorkingStage = (typeof workingStages)[number];

export const endStages = ['out', 'left-in'] as const;
export const stages = [...workingStages, ...endStages] as const;
export type Stage = (typeof stages)[number];

export const outcomes = [
  'out',
  'moving',
  'no-change',
  'slipped',
  'head-sheared',
  'shank-broke',
  'tool-broke',
  'tool-jammed',
  'set-up-done',
] as const;
export type Outcome = (typeof outcomes)[number];

/** Holds stop the ordinary next tap until somebody answers; notices only say something. */
export const holdIds = [
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
] as const;
export type HoldId = (typeof holdIds)[number];

export const noticeIds = ['consider-trephine', 'heat', 'tourniquet'] as const;
export type NoticeId = (typeof noticeIds)[number];

export const closedReasons = [
  'does-not-fit',
  'locked-flush',
  'not-proud',
  'needs-reaming',
  'slipped',
  'used-up',
  'tool-missing',
  'hold-open',
  'not-used-here',
] as const;
export type ClosedReason = (typeof closedReasons)[number];

export const consentIds = [
  'this-metal',
  'placed-elsewhere',
  'over-18-months',
  'may-break',
  'may-stay',
  'longer-incision',
  'bone-may-break',
  'may-be-abandoned',
  'second-approach',
  'at-patients-request',
  'no-guarantee',
] as const;
export type ConsentId = (typeof consentIds)[number];

export const drives = ['hexagonal', 'hexalobular', 'cruciform', 'slotted', 'unknown'] as const;
export type Drive = (typeof drives)[number];

export const noteFields = [
  'indication',
  'diagnosis',
  'post-op-diagnosis',
  'findings',
  'procedure',
  'implants',
  'drains',
  'antibiotic',
  'tourniquet',
  'blood-loss',
  'incision',
  'tissue',
  'closure',
  'dvt-prophylaxis',
  'anaesthesia',
  'position',
  'instructions',
  'specimens',
  'complications',
] as const;
export type NoteField = (typeof noteFields)[number];

export const roles = ['surgeon', 'assistant', 'anaesthetist', 'scrub', 'circulating', 'other'] as const;
export type Role = (typeof roles)[number];

export const sides = ['left', 'right', 'midline'] as const;
export const constructs = ['plate', 'nail', 'screws'] as const;
export const threads = ['cortical', 'cancellous'] as const;
export const materials = ['steel', 'titanium', 'unknown'] as const;
export const answers = ['go-on', 'stop', 'called', 'not-available', 'confirmed', 'let-down'] as const;
export const toldPoints = ['material', 'size', 'place', 'risks', 'mri'] as const;
