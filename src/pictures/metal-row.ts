/** A stretch of metal in the account of one screw. */
export interface MetalPiece {
  kind: 'out' | 'left' | 'missing';
  /** mm */
  length: number;
  /** It makes up the difference; nobody measured it. */
  assumed?: boolean;
}

export interface LaidPiece extends MetalPiece {
  /** Where it begins, mm from the head end. */
  from: number;
}

/**
 * Lays pieces end to end, in their order. Pieces without length are dropped.
 *
 * @param pieces lengths in mm
 * @example metalRow([{ kind: 'out', length: 20 }, { kind: 'left', length: 16 }])[1]?.from // 20
 */
export function metalRow(pieces: readonly MetalPiece[]): LaidPiece[] {
  let at = 0;
  return pieces
    .filter(({ length }) => length > 0)
    .map((piece) => {
      const laid = { ...piece, from: at };
      at += piece.length;
      return laid;
    });
}

/**
 * A threaded rod lying on its side, as SVG path data: saw teeth above and below, half a pitch apart.
 *
 * @param from left end, @param length, @param radius to the crests; mm
 * @param ends `broken` is jagged, `flat` is where the head was or is, `tip` is pointed
 * @returns a closed path
 */
export function rod(
  from: number,
  length: number,
  radius: number,
  ends: { start: 'flat' | 'broken'; end: 'tip' | 'broken' },
): string {
  const pitch = 1.6;
  const core = radius * 0.7;
  const to = from + length;
  const teeth = (side: 1 | -1, shift: number) => {
    const points: [number, number][] = [];
    for (let x = from + shift; x + pitch <= to - radius * 0.3; x += pitch)
      points.push([x, side * core], [x + pitch / 2, side * radius]);
    return points;
  };
  const jag = Math.min(radius * 0.6, length * 0.3);
  const start: [number, number][] =
    ends.start === 'broken'
      ? [
          [from + jag, core],
          [from, core * 0.3],
          [from + jag, -core * 0.2],
          [from, -core],
        ]
      : [
          [from, core],
          [from, -core],
        ];
  const end: [number, number][] =
    ends.end === 'broken'
      ? [
          [to, -core],
          [to - jag, -core * 0.2],
          [to, core * 0.3],
          [to - jag, core],
        ]
      : [
          [to - radius * 0.5, -core],
          [to, 0],
          [to - radius * 0.5, core],
        ];
  const points = [...start, ...teeth(-1, 0.2), ...end, ...teeth(1, 0.2 + pitch / 2).reverse()];
  return `M${points.map(([x, y]) => `${Math.round(x * 100) / 100} ${Math.round(y * 100) / 100}`).join('L')}Z`;
}
