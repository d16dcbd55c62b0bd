/** Slanted lines: bone that a move would take. `size` is the distance between them in units of the drawing. */
export function Hatch(props: { id: string; size: number }) {
  return (
    <pattern
      id={props.id}
      width={props.size}
      height={props.size}
      patternUnits="userSpaceOnUse"
      patternTransform="rotate(45)"
    >
      <rect class="hatch" width={props.size * 0.45} height={props.size} />
    </pattern>
  );
}
