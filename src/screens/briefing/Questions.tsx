import { For, Match, Show, Switch, createSignal } from 'solid-js';
import { workingStages, type Drive, type constructs } from '../../../content/ids.ts';
import type { ScrewSize } from '../../../content/types.ts';
import { depth, type ScrewContext } from '../../../machines/screw.context.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { figure } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { drivesOf, lengthOffers, sizeGroups, type Facts } from './plan.ts';
import { createScrewWords } from './screw-words.ts';

export interface HowManyProps {
  construct: (typeof constructs)[number];
  /** null while nothing was chosen. */
  value: number | null;
  /** `first`: the whole metal; `more`: some more of it. */
  label: 'first' | 'more';
  hidden?: boolean;
  onChoose: (count: number) => void;
}

/** One row above the sizes; what is not in it is added by "Several". */
const first: Record<HowManyProps['construct'], readonly number[]> = {
  plate: [1, 4, 6, 7, 8, 10, 12],
  nail: [1, 2, 3, 4, 5, 6],
  screws: [1, 2, 3, 4, 5, 6],
};
const more: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/** How many screws the next description stands for: a whole plate, a nail's bolts, or loose screws, all alike. */
export function HowMany(props: HowManyProps) {
  const { w } = useApp();
  const label = () => {
    if (props.label === 'more') return w('briefing.alike-more');
    if (props.construct === 'plate') return w('briefing.alike-plate');
    return props.construct === 'nail' ? w('briefing.alike-nail') : w('briefing.alike-loose');
  };
  return (
    <Show when={!props.hidden}>
      <Choice
        label={label()}
        options={(props.label === 'more' ? more : first[props.construct]).map((value) => ({
          value,
          label: String(value),
        }))}
        value={props.value}
        onChoose={(count) => props.onChoose(count)}
      />
    </Show>
  );
}

export interface QuestionProps {
  question: 'size' | 'drive' | 'material' | 'cortices' | 'length' | 'form' | 'stage' | 'alike';
  facts: Facts;
  /** The listed screw that is corrected, if it is one. */
  listed: ScrewContext | undefined;
  onAnswer: (given: Facts) => void;
}

/** One question on a screw; every answer is one touch. */
export function Question(props: QuestionProps) {
  return (
    <Switch>
      <Match when={props.question === 'size'}>
        <Size {...props} />
      </Match>
      <Match when={props.question === 'drive'}>
        <DriveForm {...props} />
      </Match>
      <Match when={props.question === 'material'}>
        <Material {...props} />
      </Match>
      <Match when={props.question === 'cortices'}>
        <Cortices {...props} />
      </Match>
      <Match when={props.question === 'length'}>
        <Length {...props} />
      </Match>
      <Match when={props.question === 'form'}>
        <Form {...props} />
      </Match>
      <Match when={props.question === 'stage'}>
        <BrokenAlready {...props} />
      </Match>
    </Switch>
  );
}

/** Size, thread and locking in one touch; a size that is not offered is entered on the number pad. */
function Size(props: QuestionProps) {
  const app = useApp();
  const { w } = app;
  const words = createScrewWords(app);
  const groups = () => sizeGroups(app.content());
  const [other, setOther] = createSignal(false);
  /** The diameter, mm; null: not known. Undefined until it was typed. */
  const [typed, setTyped] = createSignal<{ diameter: number | null }>();
  const given = ({ diameter, thread, locking }: Pick<ScrewSize, 'diameter' | 'thread' | 'locking'>) =>
    props.onAnswer({ diameter, thread, locking });
  const isNow = (size: ScrewSize) =>
    props.facts.diameter === size.diameter &&
    props.facts.thread === size.thread &&
    props.facts.locking === size.locking;
  /** For a nail, no sizes that lock by their heads: they are rare, and are entered on the number pad. */
  const all = () =>
    words.isBolt()
      ? [...groups().cortical, ...groups().cancellous]
      : [...groups().locking, ...groups().cancellous, ...groups().cortical];
  const kinds = [
    { thread: 'cortical', locking: true },
    { thread: 'cortical', locking: false },
    { thread: 'cancellous', locking: false },
    { thread: 'cancellous', locking: true },
    { thread: 'partly', locking: false },
    { thread: 'cortical', locking: null },
    { thread: 'cancellous', locking: null },
    { thread: null, locking: false },
    { thread: null, locking: null },
  ] as const;
  return (
    <Show
      when={!other()}
      fallback={
        <Show
          when={typed()}
          fallback={
            <NumberPad
              label={w('briefing.diameter')}
              unit={w('briefing.mm')}
              value={props.facts.diameter ?? null}
              min={0.8}
              max={12}
              words={{
                done: w('briefing.done'),
                back: w('briefing.rub-out'),
                unknown: w('briefing.not-known'),
                range: w('briefing.range', { min: 0.8, max: 12 }),
              }}
              onDone={(diameter) => setTyped({ diameter })}
            />
          }
        >
          {(size) => (
            <Choice
              label={
                size().diameter === null
                  ? w('briefing.which-kind-unsized')
                  : w('briefing.which-kind', { diameter: size().diameter ?? 0 })
              }
              options={kinds.map((value) => ({
                value,
                label:
                  value.locking && value.thread === 'cancellous'
                    ? w('briefing.kind.locking-cancellous')
                    : words.kind(value),
              }))}
              onChoose={(kind) => props.onAnswer({ ...size(), ...kind })}
            />
          )}
        </Show>
      }
    >
      <div class="question">
        <p class="small soft">{w('briefing.size-question')}</p>
        <div class="choice-row sizes">
          <For each={all()}>
            {(size) => (
              <Touch size="small" pressed={isNow(size)} onAct={() => given(size)}>
                <span>{figure(size.diameter.toFixed(1))}</span>
                <small>{words.kind(size)}</small>
              </Touch>
            )}
          </For>
          <Touch size="small" onAct={() => setOther(true)}>
            {w('briefing.other')}
          </Touch>
        </div>
      </div>
    </Show>
  );
}

/** The form of the recess, with the sizes known for this screw first. */
function DriveForm(props: QuestionProps) {
  const app = useApp();
  const { w } = app;
  const words = createScrewWords(app);
  const [others, setOthers] = createSignal(false);
  const known = () => drivesOf(app.content(), props.facts);
  const isNow = (drive: Drive, size?: number) => props.facts.drive === drive && props.facts.driveSize === size;
  const give = (drive: Drive, size?: number) =>
    props.onAnswer({ drive, driveSize: undefined, ...(size !== undefined && { driveSize: size }) });
  const plain: readonly Drive[] = ['cruciform', 'slotted', 'unknown'];
  return (
    <div class="question">
      <p class="small soft">{w('briefing.drive-question')}</p>
      <Show
        when={others()}
        fallback={
          <div class="choice-row">
            <For each={known()}>
              {({ drive, size }) => (
                <Touch pressed={isNow(drive, size)} onAct={() => give(drive, size)}>
                  {words.drive(drive, size)}
                </Touch>
              )}
            </For>
            <For each={plain}>
              {(drive) => (
                <Touch pressed={isNow(drive)} onAct={() => give(drive)}>
                  {words.drive(drive)}
                </Touch>
              )}
            </For>
            <Touch onAct={() => setOthers(true)}>{w('briefing.other-drive-size')}</Touch>
          </div>
        }
      >
        <div class="choice-row sizes">
          <For each={app.content().recesses}>
            {({ drive, size }) => (
              <Touch size="small" pressed={isNow(drive, size)} onAct={() => give(drive, size)}>
                <span>{figure(size)}</span>
                <small>{words.drive(drive)}</small>
              </Touch>
            )}
          </For>
          <For each={['hexagonal', 'hexalobular'] as const}>
            {(drive) => (
              <Touch size="small" pressed={isNow(drive)} onAct={() => give(drive)}>
                <span>{w('briefing.size-unknown')}</span>
                <small>{words.drive(drive)}</small>
              </Touch>
            )}
          </For>
        </div>
      </Show>
      <p class="small soft">{w('drive-forms')}</p>
    </div>
  );
}

function Material(props: QuestionProps) {
  const app = useApp();
  const { w } = app;
  const words = createScrewWords(app);
  return (
    <div class="question">
      <Choice
        label={w('briefing.material-question')}
        options={(['steel', 'titanium', 'cobalt-chromium', 'unknown'] as const).map((value) => ({
          value,
          label: words.material(value),
        }))}
        value={props.facts.material}
        onChoose={(material) => props.onAnswer({ material })}
      />
      <Show when={props.facts.locking}>
        <p class="small soft">{w('locking-binds')}</p>
      </Show>
    </div>
  );
}

function Cortices(props: QuestionProps) {
  const app = useApp();
  const words = createScrewWords(app);
  return (
    <Choice<1 | 2 | 'unknown'>
      label={app.w('briefing.cortices-question')}
      options={([1, 2, 'unknown'] as const).map((value) => ({
        value,
        label: value === 'unknown' ? app.w('briefing.not-known') : words.cortices(value),
      }))}
      value={props.facts.cortices === null ? 'unknown' : props.facts.cortices}
      onChoose={(value) => props.onAnswer({ cortices: value === 'unknown' ? null : value })}
    />
  );
}

/** What kind of screw it is besides its thread, and whether a washer lies under its head: nobody has to say so. */
function Form(props: QuestionProps) {
  const { w } = useApp();
  return (
    <div class="question">
      <p class="small soft">{w('briefing.form-question')}</p>
      <div class="choice-row">
        <For each={['solid', 'cannulated', 'headless'] as const}>
          {(value) => (
            <Touch pressed={props.facts.form === value} onAct={() => props.onAnswer({ form: value })}>
              {w(`briefing.form.${value}`)}
            </Touch>
          )}
        </For>
        <For each={[true, false]}>
          {(value) => (
            <Touch pressed={props.facts.washer === value} onAct={() => props.onAnswer({ washer: value })}>
              {w(value ? 'briefing.washer' : 'briefing.no-washer')}
            </Touch>
          )}
        </For>
        <Touch onAct={() => props.onAnswer({ form: undefined, washer: undefined })}>{w('briefing.not-known')}</Touch>
      </div>
    </div>
  );
}

function Length(props: QuestionProps) {
  const { w } = useApp();
  const [pad, setPad] = createSignal(false);
  return (
    <Show
      when={!pad()}
      fallback={
        <NumberPad
          label={w('briefing.length')}
          unit={w('briefing.mm')}
          value={props.facts.length ?? null}
          min={1}
          max={200}
          words={{
            done: w('briefing.done'),
            back: w('briefing.rub-out'),
            unknown: w('briefing.not-known'),
            range: w('briefing.range', { min: 1, max: 200 }),
          }}
          onDone={(length) => props.onAnswer({ length })}
        />
      }
    >
      <div class="question lengths">
        <p class="small soft">{w('briefing.length-question')}</p>
        <div class="choice-row">
          <For each={lengthOffers(props.facts.diameter ?? 3.5)}>
            {(length) => (
              <Touch size="small" pressed={props.facts.length === length} onAct={() => props.onAnswer({ length })}>
                {figure(length)}
              </Touch>
            )}
          </For>
          <Touch size="small" onAct={() => setPad(true)}>
            {w('briefing.other')}
          </Touch>
          <Touch pressed={props.facts.length === null} onAct={() => props.onAnswer({ length: null })}>
            {w('briefing.not-known')}
          </Touch>
        </div>
      </div>
    </Show>
  );
}

/** Known to be broken before the work starts. A listed screw can only be said to be worse than it stands. */
function BrokenAlready(props: QuestionProps) {
  const { w, content } = useApp();
  const above = (stage: (typeof workingStages)[number]) =>
    props.listed && depth(stage) < depth(props.listed.stage) ? w('briefing.only-worse') : undefined;
  return (
    <div class="question">
      <p class="small soft">{w('briefing.broken-question')}</p>
      <div class="choice-row">
        <For each={workingStages}>
          {(stage) => (
            <Touch
              pressed={(props.listed?.stage ?? props.facts.stage ?? 'seated') === stage}
              closed={above(stage)}
              onAct={() => props.onAnswer({ stage })}
            >
              {stage === 'seated' ? w('briefing.not-broken') : content().phrases.stages[stage].label}
            </Touch>
          )}
        </For>
      </div>
    </div>
  );
}
