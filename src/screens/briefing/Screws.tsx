import { Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { ConstructMap, type MapScrew } from '../../pictures/ConstructMap.tsx';
import { useApp } from '../app.ts';
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
  /** The listed screw that is shown; null while a new one is described. */
  const [shown, setShown] = createSignal<string | null>(null);
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
  createLayoutGuard(() => `${shown()} ${asked()} ${begun()} ${alike()} ${differs()}`);

  const word = ({ facts: { diameter, length }, stage }: ScrewContext) =>
    stage === 'seated'
      ? w('briefing.map-word', {
          diameter: diameter ?? w('briefing.no-figure'),
          length: length ?? w('briefing.no-figure'),
        })
      : app.content().phrases.stages[stage].glance;
  const mapped = createMemo<MapScrew[]>(() =>
    screws().map((screw) => ({
      id: screw.id,
      stage: screw.stage,
      word: word(screw),
      label: w('briefing.map-screw', { screw: screw.id, what: word(screw) }),
    })),
  );
  // On a low screen two lines of touches would leave nothing of the question; then the map folds.
  const box = () => ({ width: room().width, height: room().height >= 90 ? 54 : 30 });

  const fresh = () => {
    setFacts({});
    setAlike(1);
    setAsked('size');
    setShown(null);
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
  };
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
          <ConstructMap
            construct={construct()}
            screws={mapped()}
            called={shown()}
            box={box()}
            flow="row"
            label={w('briefing.map-label', { count: screws().length })}
            onCall={select}
            shown={shown() ?? last()?.id ?? null}
            onShow={select}
            words={{ previous: w('briefing.previous-screw'), next: w('briefing.next-screw') }}
          />
        </Show>

        <Show when={begun()}>
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
                    <div class="choice-row">
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
