import { For, Show, type JSX } from 'solid-js';

export interface GridProps {
  caption: string;
  head: readonly string[];
  /** The first cell of a row names it. */
  rows: readonly (readonly (JSX.Element | string | number)[])[];
  /** Shown where there are no rows. */
  none: string;
}

/** An accessible table: a caption, column heads, and a head for each row. */
export function Grid(props: GridProps) {
  return (
    <Show
      when={props.rows.length}
      fallback={
        <section>
          <h2>{props.caption}</h2>
          <p class="soft">{props.none}</p>
        </section>
      }
    >
      <table class="grid">
        <caption>{props.caption}</caption>
        <thead>
          <tr>
            <For each={props.head}>{(head) => <th scope="col">{head}</th>}</For>
          </tr>
        </thead>
        <tbody>
          <For each={props.rows}>
            {(row) => (
              <tr>
                <th scope="row">{row[0]}</th>
                <For each={row.slice(1)}>{(cell) => <td>{cell}</td>}</For>
              </tr>
            )}
          </For>
        </tbody>
      </table>
    </Show>
  );
}
