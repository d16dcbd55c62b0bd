/** What the record screen reads of the open case. */
import { drawnDiameter } from '../../pictures/screw-shape.ts';
import { boneAt } from '../../../machines/compute/bone-cost.ts';
import { verify } from '../../../machines/seal.ts';
import { view } from '../../../machines/view.ts';
import type { NoteField } from '../../../content/ids.ts';
import { buildRecord } from '../../record/build.ts';
import type { CaseRecord, StillIn, TimelineRow, Value } from '../../record/model.ts';
import { notRecorded } from '../../record/model.ts';
import type { OpenCase } from '../../session/session.ts';
import type { StillInProps } from '../../pictures/StillIn.tsx';

/** The record as of the last entry, its seals verified anew; clocks do not go on in it. */
export const recordOf = ({ entries, folded }: OpenCase): CaseRecord =>
  buildRecord(entries, folded, view(folded, undefined, verify(entries)), folded.content);

/** Every row of the timeline. */
export const timelineRows = (record: CaseRecord): TimelineRow[] =>
  record.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'timeline' ? block.rows : [])));

/** What the note says under a field, with what the log itself knows of it. */
export function valueOf(record: CaseRecord, field: NoteField): Value {
  for (const { id, blocks } of record.sections)
    if (id === 'operation')
      for (const block of blocks) if (block.kind === 'item' && block.id === field) return block.value;
  return notRecorded;
}

/** Enough of a random number to tell cases apart on paper; it says nothing of a patient. */
export const shortId = (caseId: string): string => caseId.replaceAll('-', '').slice(0, 8);

export type Drawing = Omit<StillInProps, 'label' | 'notes' | 'bar'>;

/** How a piece of a screw is drawn in its bone; null for a tool, or where nothing is known of the bone. */
export function drawingOf({ folded }: OpenCase, record: CaseRecord, piece: StillIn): Drawing | null {
  const screw = piece.screw === null ? undefined : folded.screws.get(piece.screw)?.context;
  const fate = record.facts.screws.find(({ id }) => id === piece.screw);
  const bone = screw && boneAt(folded.content, folded.case.context.room, screw.id);
  if (!screw || !fate || !bone || piece.kind === 'unaccounted') return null;
  const stage = screw.stage === 'left-in' ? (fate.leftFrom ?? 'seated') : screw.stage;
  const { nearSurface } = screw.found;
  if (piece.place === null && screw.found.tipProud === false) return null;
  return {
    stage,
    diameter: drawnDiameter(screw.facts),
    length: screw.facts.length,
    cortices: screw.facts.cortices,
    bone: { outer: bone.outer, cortex: bone.cortex, assumed: bone.source === 'assumed' },
    nearSurface,
    out: screw.pieces.reduce((sum, length) => sum + length, 0),
    piece: piece.length ?? undefined,
    made: screw.bores,
  };
}
