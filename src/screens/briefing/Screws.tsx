import { For, Match, Show, Switch, createMemo, createSignal, onCleanup, untrack } from 'solid-js';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { ScrewGlyph } from '../../pictures/ScrewGlyph.tsx';
import { useApp } from '../app.ts';
import { gapMm, touchMm } from '../../pictures/map-layout.ts';
import { createRoomOf } from '../size.ts';
import { Disagree } from './Disagree.tsx';
import { FactsRow, type Asked } from './FactsRow.tsx';
import { HowMany, Question } from './Questions.tsx';
import { factsOf, listing, listingsOf, nextIds, nextQuestion, type Facts } from './plan.ts';
import type { StepProps } from './step.ts';

/**
 * The metal, screw by screw. Five touches describe one, one touch repeats the last, and one describes all of a kind
 * together. A screw is in the log the moment its last fact is given; any fact given again lists it anew.
 */
export function Screws(props: StepProps) {
  const app = useApp();
  const { w } = app;
  const [facts, setFacts] = createSignal<Facts>({});
  const [alike, setAlike] = createSignal(1);
  const [asked, setAsked] = createSignal<Asked>('size');
  const shown = () => props.shown();
  const setShown = (id: string | null) => props.show(id);
  onCleanup(() => setShown(null));
  /** All listed screws are there to be touched, where a row has no room for them. */
  const [picking, setPicking] = createSignal(false);
  const [differs, setDiffers] = createSignal(false);
  const { room, ref } = createRoomOf(app, { width: 170, height: 140 });

  const screws = createMemo<readonly ScrewContext[]>(() =>
    [...(app.open()?.folded.screws.values() ?? [])].map(({ context }) => context),
  );
  const construct = () => app.open()?.folded.case.context.room.opened?.construct ?? 'screws';
  const of = (id: string | null) => screws().find((screw) => screw.id === id);
  const last = () => screws().at(-1);
  const current = (): Facts => {
    const screw = of(shown());
    return screw ? factsOf(screw.facts) : facts();
  };
  const begun = () => shown() !== null || facts().diameter !== undefined;

  const word = ({ facts: { diameter, length }, stage }: ScrewContext) =>
    stage === 'seated'
      ? w('briefing.map-word', {
          diameter: diameter ?? w('briefing.no-figure'),
          length: length ?? w('briefing.no-figure'),
        })
      : app.content().phrases.stages[stage].glance;
  /** Each screw is a touch at once where all of them have room in one row, and the question still stands below it. */
  const inRow = () => screws().length <= Math.floor((room().width + gapMm) / (touchMm + gapMm)) && room().height >= 98;
  createLayoutGuard(() => `${shown()} ${asked()} ${begun()} ${alike()} ${differs()} ${picking()} ${inRow()}`);

  const fresh = () => {
    setFacts({});
    setAlike(1);
    setAsked('size');
    setShown(null);
    setPicking(false);
  };
  const list = async (screw: Facts, count: number) => {
    const drafts = nextIds(
      screws().map(({ id }) => id),
      count,
    ).flatMap((id) => listing(id, screw) ?? []);
    if (drafts.length > 0 && (await props.put(...drafts))) fresh();
  };
  const answer = async (given: Facts) => {
    const id = shown();
    const next = { ...current(), ...given };
    if (id !== null) {
      const draft = listing(id, next);
      if (draft && (await props.put(draft))) setAsked(null);
      return;
    }
    setFacts(next);
    const question = nextQuestion(next);
    if (question) setAsked(question);
    else await list(next, alike());
  };
  const select = (id: string) => {
    setShown(id);
    setAsked(null);
    setPicking(false);
  };
  // A touch on the state of the room leads here: the screw that it names is shown, its fact asked.
  untrack(() => {
    const aim = props.aim();
    if (!aim || !('screw' in aim) || !of(aim.screw)) return;
    setShown(aim.screw);
    setAsked(aim.ask);
  });
  const takeOff = async (id: string) => {
    const open = app.open();
    if (!open) return;
    const reason = w('briefing.listed-by-mistake');
    const drafts = listingsOf(open, id).map((entry) => ({ type: 'struck' as const, entry, reason }));
    if (await props.put(...drafts)) fresh();
  };

  return (
    <Show when={!differs()} fallback={<Disagree put={props.put} screw={shown()} onClose={() => setDiffers(false)} />}>
      <div class="screws" ref={ref}>
        <Show
          when={screws().length > 0}
          fallback={
            <HowMany construct={construct()} value={alike()} onChoose={setAlike} hidden={begun()} label={'first'} />
          }
        >
          <Show when={picking() || (inRow() && asked() !== 'alike')}>
            <ul class="screw-picks" aria-label={w('briefing.pick-label')}>
              <For each={screws()}>
                {(screw) => (
                  <li>
                    <Touch
                      size="small"
                      class="map-touch"
                      label={w('briefing.map-screw', { screw: screw.id, what: word(screw) })}
                      current={screw.id === shown()}
                      onAct={() => select(screw.id)}
                    >
                      <b>{screw.id}</b> <ScrewGlyph stage={screw.stage} /> <span class="map-word">{word(screw)}</span>
                    </Touch>
                  </li>
                )}
              </For>
            </ul>
          </Show>
        </Show>

        <Show when={begun() && !picking()}>
          <FactsRow
            screw={shown()}
            alike={alike()}
            facts={current()}
            stage={of(shown())?.stage ?? facts().stage ?? 'seated'}
            asked={asked()}
            onAsk={setAsked}
          />
        </Show>

        <Switch>
          <Match when={picking()}>
            <div class="choice-row">
              <Touch onAct={() => setPicking(false)}>{w('briefing.back')}</Touch>
            </div>
          </Match>
          <Match when={asked() === 'alike'}>
            <HowMany
              construct={construct()}
              value={alike() > 1 ? alike() : null}
              label="more"
              onChoose={(count) => {
                setAlike(count);
                setAsked(nextQuestion(facts()) ?? 'size');
              }}
            />
          </Match>
          <Match when={asked()}>
            {(question) => (
              <>
                <Show when={!begun() && last()}>
                  {(same) => (
                    <div class="same-ways">
                      <Touch onAct={() => void list(factsOf(same().facts), alike())}>
                        {alike() === 1
                          ? w('briefing.same', { screw: same().id })
                          : w('briefing.same-several', { screw: same().id, count: alike() })}
                      </Touch>
                      <Touch
                        onAct={() => {
                          const { length: _, ...rest } = factsOf(same().facts);
                          setFacts(rest);
                          setAsked('length');
                        }}
                      >
                        {w('briefing.same-other-length', { screw: same().id })}
                      </Touch>
                      <Touch onAct={() => setAsked('alike')}>{w('briefing.several-alike')}</Touch>
                      <Show when={!inRow()}>
                        <Touch onAct={() => setPicking(true)}>{w('briefing.pick')}</Touch>
                      </Show>
                    </div>
                  )}
                </Show>
                <Question
                  question={question()}
                  facts={current()}
                  listed={of(shown())}
                  onAnswer={(given) => void answer(given)}
                />
              </>
            )}
          </Match>
          <Match when={of(shown())}>
            {(screw) => (
              <div class="screw-ends">
                <p class="small soft">{w('briefing.correct-by-touch')}</p>
                <div class="choice-row">
                  <Touch onAct={fresh}>{w('briefing.another-screw')}</Touch>
                  <Show when={!inRow()}>
                    <Touch onAct={() => setPicking(true)}>{w('briefing.pick')}</Touch>
                  </Show>
                  <Touch onAct={() => props.next()}>{w('briefing.go-bone')}</Touch>
                  <Touch onAct={() => setDiffers(true)}>{w('plan.disagree')}</Touch>
                  <Show when={isWorking(screw().stage)}>
                    <Touch consequential onAct={() => void takeOff(screw().id)}>
                      {w('briefing.take-off-list', { screw: screw().id })}
                    </Touch>
                  </Show>
                </div>
              </div>
            )}
          </Match>
        </Switch>
      </div>
    </Show>
  );
}
