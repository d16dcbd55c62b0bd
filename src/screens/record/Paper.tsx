import { For, Match, Show, Switch, type JSX } from 'solid-js';
import { linesIn, type Block, type Page, type Section } from '../../record/model.ts';
import { day } from '../../format/figures.ts';
import { PrintedWhen } from './WhenPicture.tsx';

type OfKind<K extends Block['kind']> = Extract<Block, { kind: K }>;

export interface PaperProps {
  page: Page;
  /** What stands first in a section, before its own blocks. */
  first?: (section: Section) => JSX.Element;
  /** What stands last in a section. */
  last?: (section: Section) => JSX.Element;
  /** The picture of time is drawn so; on paper alone it is drawn for print. */
  picture?: (block: OfKind<'picture'>) => JSX.Element;
}

/** A page as it will print. */
export function Paper(props: PaperProps) {
  return (
    <article class="paper">
      <h2 class="paper-title">{props.page.title}</h2>
      <For each={props.page.sections}>
        {(section) => (
          <section class="paper-section" data-section={section.id}>
            <h3>{section.title}</h3>
            {props.first?.(section)}
            <For each={section.blocks}>
              {(block) => <OneBlock block={block} language={props.page.language} picture={props.picture} />}
            </For>
            {props.last?.(section)}
          </section>
        )}
      </For>
    </article>
  );
}

const as = <K extends Block['kind']>(block: Block, kind: K) => (block.kind === kind ? (block as OfKind<K>) : undefined);

function OneBlock(props: { block: Block; language: string | undefined; picture: PaperProps['picture'] }) {
  const lines = (value: OfKind<'item'>['value']) => linesIn(props.language, value);
  return (
    <Switch>
      <Match when={as(props.block, 'text')}>{(block) => <p>{block().text}</p>}</Match>
      <Match when={as(props.block, 'heading')}>{(block) => <h4>{block().text}</h4>}</Match>
      <Match when={as(props.block, 'list')}>{(block) => <Lines lines={block().items} />}</Match>
      <Match when={as(props.block, 'item')}>
        {(block) => (
          <div class="paper-item" data-state={block().value.state} data-item={block().id}>
            <b>{block().label}</b>
            <Show when={lines(block().value).length > 1} fallback={<span>{lines(block().value)[0]}</span>}>
              <Lines lines={lines(block().value)} />
            </Show>
          </div>
        )}
      </Match>
      <Match when={as(props.block, 'picture')}>
        {(block) => props.picture?.(block()) ?? <PrintedWhen picture={block().picture} />}
      </Match>
      <Match when={as(props.block, 'fill')}>
        {(block) => (
          <p class="paper-fill">
            <span>{block().text}</span>
            <span class="paper-line" />
          </p>
        )}
      </Match>
      <Match when={as(props.block, 'frame')}>
        {(block) => (
          <p class="paper-frame" style={{ '--side': String(block().mm) }}>
            <span class="paper-room" />
            <span>{block().text}</span>
          </p>
        )}
      </Match>
      <Match when={as(props.block, 'table')}>
        {(block) => (
          <div class="paper-table" role="table" data-columns={block().head.length}>
            <For each={[block().head, ...block().rows]}>
              {(cells, i) => (
                <div role="row" data-head={i() === 0 ? '' : undefined}>
                  <For each={cells}>
                    {(cell, at) => (
                      <span role={i() === 0 ? 'columnheader' : at() === 0 ? 'rowheader' : 'cell'}>{cell}</span>
                    )}
                  </For>
                </div>
              )}
            </For>
          </div>
        )}
      </Match>
      <Match when={as(props.block, 'timeline')}>
        {(block) => (
          <ol class="paper-timeline">
            <For each={block().rows}>
              {(row, i) => (
                <li>
                  <Show when={block().rows[i() - 1]?.date !== row.date}>
                    <b class="paper-day figure">{day(row.date)}</b>
                  </Show>
                  <span class="figure">{row.time}</span> <span class="figure">({row.n})</span>{' '}
                  <For each={row.marks}>{(mark) => <b>[{mark}] </b>}</For>
                  <Show when={row.struck} fallback={row.sentence}>
                    <s>{row.sentence}</s>
                  </Show>
                </li>
              )}
            </For>
          </ol>
        )}
      </Match>
    </Switch>
  );
}

const Lines = (props: { lines: readonly string[] }) => (
  <ul class="paper-list">
    <For each={props.lines}>{(line) => <li>{line}</li>}</For>
  </ul>
);
