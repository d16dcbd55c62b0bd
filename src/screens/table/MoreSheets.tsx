import { isPlateOn } from '../../../machines/case.context.ts';
import { For, Show, createSignal } from 'solid-js';
import type { HoldId, ToolId } from '../../../content/ids.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { departmentSource } from '../../../content/overlay.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { effective } from '../../session/effective.ts';
import { Evidence } from './Evidence.tsx';
import { once } from './once.ts';
import { openTips } from './tips.ts';
import type { SheetName, Table } from './state.ts';
import { useApp } from '../app.ts';
import { limitWords } from '../source-words.ts';

interface Props {
  table: Table;
}

const menu: readonly SheetName[] = [
  ...(['found', 'clocks', 'tool', 'bone', 'when', 'log', 'remark', 'forecast'] as const),
  ...(['hand-over', 'event'] as const),
];

/** What is not needed every minute, one touch further. */
export function MoreSheet(props: Props) {
  const { w, go, open, view } = useApp();
  const liftable = () => {
    const room = open()?.folded.case.context.room;
    return props.table.isSecond() && room !== undefined && isPlateOn(room);
  };
  /** By the first ladder all there is to tell of a plate alone is that it is off. */
  const hasParts = () => {
    const context = open()?.folded.case.context;
    const told = [...(context?.parts.values() ?? [])];
    const isPlateAlone = hasPlate() && told.every(({ kind }) => kind === 'plate' || kind === 'foil');
    return props.table.isSecond() || !isPlateAlone;
  };
  /** Where there is no plate, none is taken off. */
  const hasPlate = () => {
    const context = open()?.folded.case.context;
    return context?.room.opened?.construct === 'plate' || context?.parts.has('plate') === true;
  };
  /** What a notice of the second ladder asks to be looked at: a word that it was. */
  const unchecked = (): Extract<EntryDraft, { type: 'checked' }>[] => {
    const [screw, size] = [props.table.called(), props.table.context()?.facts.driveSize];
    const first = props.table.screw()?.notices.includes('first-turn') && screw !== null;
    return [
      ...(first ? [{ type: 'checked', what: 'first-turn', screw, ...(size !== undefined && { size }) } as const] : []),
      ...(view()?.notices.includes('eyes-and-swabs') ? [{ type: 'checked', what: 'eyes-and-swabs' } as const] : []),
    ];
  };
  return (
    <Sheet title={w('more.title')} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="menu">
        <For each={menu}>
          {(sheet) => (
            <Touch size="card" onAct={() => props.table.setPanel({ kind: 'sheet', sheet })}>
              {w(`more.${sheet}`)}
            </Touch>
          )}
        </For>
        <Show when={hasParts()}>
          <Touch size="card" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'parts' })}>
            {w('more.parts')}
          </Touch>
        </Show>
        <Show when={props.table.mayDefer()}>
          {(screw) => (
            <Touch size="card" onAct={() => void once(props.table, { type: 'deferred', screw: screw() })}>
              {w('more.defer', { screw: screw() })}
            </Touch>
          )}
        </Show>
        <Touch size="card" onAct={() => void props.table.stopAll()}>
          {w('more.stop')}
        </Touch>
        <Show when={liftable()}>
          <Touch size="card" onAct={() => void props.table.lift()}>
            {w('more.lift')}
          </Touch>
        </Show>
        <For each={unchecked()}>
          {(draft) => (
            <Touch size="card" onAct={() => void once(props.table, draft)}>
              {w(`more.checked-${draft.what}`)}
            </Touch>
          )}
        </For>
        <Show when={hasPlate()}>
          <Touch size="card" onAct={() => void once(props.table, { type: 'plate-off' })}>
            {w('more.plate-off')}
          </Touch>
        </Show>
        <Touch size="card" onAct={() => void once(props.table, { type: 'washed-out' })}>
          {w('more.washed-out')}
        </Touch>
        <Touch size="card" onAct={() => go('briefing')}>
          {w('more.briefing')}
        </Touch>
      </div>
      <Touch class="menu-settings" onAct={() => go('settings')}>
        {w('more.settings')}
      </Touch>
      <Touch consequential apart="block" class="menu-close" onAct={() => go('closing')}>
        {w('more.closing')}
      </Touch>
    </Sheet>
  );
}

const facts = ['headProud', 'shankProud', 'tipProud', 'corridor'] as const;

/** What was found of the called screw: each a touch, yes or no. */
export function FoundSheet(props: Props) {
  const app = useApp();
  const { w } = app;
  const value = (fact: (typeof facts)[number]) => {
    const screw = props.table.context();
    if (fact === 'shankProud' && screw?.shankProud) return true;
    const open = app.open();
    const last =
      open &&
      effective(open).findLast(
        (entry) => entry.type === 'found' && entry.screw === screw?.id && entry[fact] !== undefined,
      );
    return last?.type === 'found' ? (last[fact] ?? null) : null;
  };
  const note = (fact: (typeof facts)[number], yes: boolean) => {
    const screw = props.table.called();
    if (screw !== null)
      void props.table.record({
        type: 'found',
        screw,
        [fact]: yes,
      });
  };
  return (
    <Sheet
      title={w('found.title', { screw: props.table.called() ?? '' })}
      close={w('table.back')}
      onClose={() => props.table.home()}
    >
      <Show when={props.table.called() !== null} fallback={<p>{w('table.call-first')}</p>}>
        <div class="found">
          <For each={facts}>
            {(fact) => (
              <Choice
                label={w(`found.${fact}`)}
                options={[
                  { value: true, label: w('word.yes') },
                  { value: false, label: w('word.no') },
                ]}
                value={value(fact)}
                onChoose={(yes) => note(fact, yes)}
              />
            )}
          </For>
        </div>
      </Show>
    </Sheet>
  );
}

/** Tourniquet, images, antibiotic. */
export function ClocksSheet(props: Props) {
  const app = useApp();
  const { w, view, content } = app;
  const [drug, setDrug] = createSignal(false);
  const up = () => view()?.clocks.tourniquetUp ?? false;
  const limit = () => app.open()?.folded.case.context.tourniquetLimit ?? null;
  /** Which intervals are the department's own, and so not those of the source named. */
  const ownIntervals = () => {
    const drugs = content().antibiotics.filter(({ source }) => source === departmentSource);
    const words = drugs.map(({ id, redoseHours }) =>
      redoseHours === null
        ? `${id} ${w('department.not-again')}`
        : `${id} ${w('department.hours', { hours: redoseHours })}`,
    );
    return words.length > 0
      ? w('department.intervals-own', { date: content().department?.changedOn ?? '', drugs: words.join(', ') })
      : '';
  };
  return (
    <Sheet title={w('more.clocks')} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="choice-row">
        <Touch onAct={() => void once(props.table, { type: 'tourniquet', to: up() ? 'down' : 'up' })}>
          {w(up() ? 'clocks.down' : 'clocks.up')}
        </Touch>
        <Touch onAct={() => void once(props.table, { type: 'images', shots: 1 })}>{w('clocks.image')}</Touch>
        <Touch onAct={() => setDrug(!drug())} pressed={drug()}>
          {w('clocks.antibiotic')}
        </Touch>
      </div>
      <p>{w('clocks.shots', { count: view()?.clocks.shots ?? 0 })}</p>
      <Show when={drug()}>
        <div class="choice-row">
          <For each={content().antibiotics}>
            {(row) => (
              <Touch onAct={() => void once(props.table, { type: 'antibiotic', drug: row.id })}>{row.id}</Touch>
            )}
          </For>
        </div>
        <p>
          <small class="soft">
            {w('clocks.redose-source')} {ownIntervals()}
          </small>
        </p>
      </Show>
      <p>
        <small class="soft">
          <Show when={limit()} fallback={w('clocks.no-limit')}>
            {(minutes) => (
              <>{w('clocks.limit-source', { minutes: minutes(), source: limitWords(app, 'tourniquetMinutes') })}</>
            )}
          </Show>
        </small>
      </p>
      <For each={content().limits.tourniquetBySite}>
        {(row) => (
          <p>
            <small class="soft">
              {row.text}: {content().sources.find(({ id }) => id === row.source)?.cite}
            </small>
          </p>
        )}
      </For>
    </Sheet>
  );
}

const toolNews = ['here', 'broken', 'tip', 'gone'] as const;

/** A tool came into the room, is broken or blunt, or was the last of its kind. */
export function ToolSheet(props: Props) {
  const app = useApp();
  const { w, content, open } = app;
  const [what, setWhat] = createSignal<(typeof toolNews)[number]>('here');
  createLayoutGuard(what);
  const label = (tool: ToolId) => content().phrases.tools[tool].label;
  /** What came is first sought among what the called screw wants, anything else among what is in the room. */
  const sought = () =>
    what() === 'here'
      ? (props.table.screw()?.withdrawn ?? []).flatMap(({ missing }) => missing)
      : (open()?.folded.case.context.room.tools ?? []).map(({ tool }) => tool);
  const tools = () => {
    const first = new Set(sought());
    return what() === 'gone' ? [...first] : [...first, ...content().ids.tools.filter((tool) => !first.has(tool))];
  };
  const note = (tool: ToolId) =>
    void once(
      props.table,
      what() === 'here' || what() === 'gone'
        ? { type: 'tool-in-room', tool, present: what() === 'here' }
        : {
            type: 'tool-damaged',
            tool,
            how: w(`tool.how.${what()}`),
            tipMissing: what() === 'tip',
          },
    );
  return (
    <Sheet title={w('more.tool')} close={w('table.back')} onClose={() => props.table.home()}>
      <Choice
        label={w('tool.what')}
        options={toolNews.map((value) => ({ value, label: w(`tool.${value}`) }))}
        value={what()}
        onChoose={setWhat}
      />
      <div class="choice-row">
        <For each={props.table.isSecond() ? openTips(app) : []}>
          {(tip) => (
            <Touch onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'tip' })}>
              {w('tip.found-which', { tool: label(tip.tool) })}
            </Touch>
          )}
        </For>
        <For each={tools()}>{(tool) => <Touch onAct={() => note(tool)}>{label(tool)}</Touch>}</For>
      </div>
    </Sheet>
  );
}

/** When the next entry happened. */
export function WhenSheet(props: Props) {
  const { w } = useApp();
  const choose = (minutesAgo: number) => {
    if (minutesAgo) props.table.setWhen({ minutesAgo });
    else props.table.now();
    props.table.home();
  };
  return (
    <Sheet title={w('more.when')} close={w('table.back')} onClose={() => props.table.home()}>
      <p>{w('when.help')}</p>
      <Choice
        label={w('when.next')}
        options={[0, 2, 5, 10].map((value) => ({
          value,
          label: value ? w('when.ago', { minutes: value }) : w('when.now'),
        }))}
        value={props.table.when().minutesAgo ?? 0}
        onChoose={choose}
      />
      <NumberPad
        label={w('when.at')}
        unit={w('when.unit')}
        value={null}
        decimals={0}
        min={1}
        max={720}
        words={{ done: w('when.use'), back: w('pad.back'), range: w('when.range') }}
        onDone={(minutes) => choose(minutes ?? 0)}
      />
    </Sheet>
  );
}

export function RemarkSheet(props: Props) {
  const { w } = useApp();
  const [text, setText] = createSignal('');
  return (
    <Sheet title={w('more.remark')} close={w('table.back')} onClose={() => props.table.home()}>
      <TextEntry label={w('remark.label')} value={text()} rows={3} onInput={setText} />
      <Touch
        onAct={() => void once(props.table, { type: 'remark', text: text().trim() })}
        closed={text().trim() === '' ? w('leave.no-words') : undefined}
      >
        {w('remark.record')}
      </Touch>
    </Sheet>
  );
}

/** Going on past a hold that stands in the row: a reason by touch. */
export function HoldsSheet(props: Props) {
  const { w, content, view } = useApp();
  const standing = () => [
    ...(props.table.screw()?.holds.filter((hold) => hold === 'second-surgeon') ?? []),
    ...(view()?.holds.filter((hold) => hold === 'tourniquet' || hold === 'time') ?? []),
  ];
  const goOn = async (hold: HoldId, reason: string) => {
    if ((await props.table.answer(hold, 'go-on', reason)).ok) props.table.home();
  };
  return (
    <Sheet title={w('hold.go-on-title')} close={w('table.back')} onClose={() => props.table.home()}>
      <For each={standing()}>
        {(hold) => (
          <div class="choice" role="group" aria-label={content().phrases.holds[hold].label}>
            <b>{content().phrases.holds[hold].label}</b>
            <p>{content().phrases.holds[hold].help}</p>
            <div class="choice-row">
              <For each={content().holds.find(({ id }) => id === hold)?.reasons ?? []}>
                {(reason) => <Touch onAct={() => void goOn(hold, reason)}>{w('hold.go-on-because', { reason })}</Touch>}
              </For>
            </div>
            <Evidence holds={[hold]} />
          </div>
        )}
      </For>
    </Sheet>
  );
}

/** A measured length for what just came out. */
export function LengthSheet(props: Props) {
  const { w } = useApp();
  const screw = () => props.table.lastOut();
  const listed = () => props.table.app.view()?.screws[screw() ?? '']?.metal.listed ?? null;
  const note = async (length: number | null) => {
    if (screw() === null || length === null || (await props.table.measured(length))) props.table.home();
  };
  return (
    <Sheet
      title={w('length.title', { screw: screw() ?? '' })}
      close={w('table.back')}
      onClose={() => props.table.home()}
    >
      <NumberPad
        label={w('length.label')}
        unit="mm"
        value={listed()}
        min={0}
        max={200}
        words={{ done: w('length.record'), back: w('pad.back'), range: w('length.range') }}
        onDone={(length) => void note(length)}
      />
    </Sheet>
  );
}
