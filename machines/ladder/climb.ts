/** What the second ladder remembers of a screw besides what every ladder does. */
import type { AnyMoveId, ToolId } from '../../content/ids.ts';
import type { RoomTool } from '../case.context.ts';

/** A move that was made and brought nothing. */
export interface Try {
  move: AnyMoveId;
  /** The tool that was named, or the only one that it can have been; null when it was one of several. */
  tool: ToolId | null;
  /** Tools that it could have been made with as it began, by `toolKey`; null of a move played ahead: those in the room. */
  among: readonly string[] | null;
}

/** How far a screw was reamed round, mm; null when nobody said. */
export interface Reaming {
  depth: number | null;
  diameter: number | null;
}

export interface Climb {
  /** Since something last changed on the screw: it moved or turned, bone was opened, the plate came off, something was found. */
  tries: readonly Try[];
  /** Reamings that were made. */
  reamings: readonly Try[];
  /** The last one. */
  reaming: Reaming | null;
  /** A window was made over the piece. */
  windowed: boolean;
  /** Does the shank stand proud? Null: nobody has seen it since the plate came off or the head did. */
  shank: boolean | null;
  /** The plate is off the bone. */
  plateOff: boolean;
  /** `turn-out` ended without gain, and not by a slip. */
  turnedWithoutGain: boolean;
  /** It turned and did not come. */
  turnedFree: boolean;
  moved: boolean;
  /** It moved, and a later move ended without gain. */
  movedThenStuck: boolean;
  /** Bone was opened, and nobody said how far. */
  boneUnsaid: boolean;
  /**
   * The look that the last first slip with a kind of tool asks for stops nobody: it was not the first slip on the screw,
   * and a second surgeon was asked about before it.
   */
  lookIsLine: boolean;
}

/** What tells one tool in the room from another: its kind and its sizes. */
export const toolKey = ({ tool, fits, size, outer, inner }: RoomTool): string =>
  [tool, size, outer, inner, fits && [...fits].sort((a, b) => a - b)].join('|');

const kindOf = (key: string) => key.slice(0, key.indexOf('|')) as ToolId;

/** The one kind that all of these are of; null when there are several, or none. */
export function onlyKind(keys: readonly string[]): ToolId | null {
  const kinds = new Set(keys.map(kindOf));
  return kinds.size === 1 ? ([...kinds][0] as ToolId) : null;
}

/**
 * Tools that a move was not tried with: each try spends one that it could have been made with, one that has left the
 * room before one that is here.
 *
 * @param here the tools in the room, by `toolKey`
 * @example leftUntried(['gouge||||'], [{ move: 'uncover', tool: 'gouge', among: ['gouge||||'] }]) // []
 */
export function leftUntried(here: readonly string[], tries: readonly Try[]): string[] {
  const spent = new Set<string>();
  const named = tries.filter(({ tool }) => tool !== null);
  for (const { tool, among } of [...named, ...tries.filter((one) => one.tool === null)]) {
    const stood = among ?? here;
    const could = tool === null ? stood : stood.filter((key) => kindOf(key) === tool);
    // What was not in the room by then may be the tool that was brought in for it.
    const from = (could.length ? could : here.filter((key) => kindOf(key) === tool)).filter((key) => !spent.has(key));
    const one = from.find((key) => !here.includes(key)) ?? from[0];
    if (one !== undefined) spent.add(one);
  }
  return here.filter((key) => !spent.has(key));
}
