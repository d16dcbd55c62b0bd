import { For, Match, Show, Switch, createEffect, createMemo, createSignal, on, untrack } from 'solid-js';
import { boneName } from '../../content/names.ts';
import { consentOpen } from '../../machines/consent.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { inZone, epoch } from '../../machines/time.ts';
import { Said } from '../parts/Said.tsx';
import { Touch } from '../parts/Touch.tsx';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { narrate } from '../record/narrative.ts';
import { takeBackMs, useApp } from './app.ts';
import { Agreed } from './briefing/Agreed.tsx';
import { Bone } from './bone/Bone.tsx';
import { Consent } from './briefing/Consent.tsx';
import { Screws } from './briefing/Screws.tsx';
import { Start } from './briefing/Start.tsx';
import { StartWork } from './briefing/StartWork.tsx';
import { Tools } from './briefing/Tools.tsx';
import { gapsOf } from './briefing/plan.ts';
import { PlanBeside } from './briefing/PlanBeside.tsx';
import { createReadiness, type Aim, type StepProps } from './briefing/step.ts';
import { acrossOf } from '../session/across.ts';
import { forecastRates } from '../session/rates.ts';
import { planOf, type Plan } from '../session/plan.ts';
import { Rehearsal } from './rehearsal/later.ts';
import { sideWord } from './cases/side-word.ts';
import { createRoomOf } from './size.ts';
import './briefing.css';
import { outcomeWords } from './failure-words.ts';

const steps = ['screws', 'bone', 'tools', 'consent', 'agreed', 'start'] as const;
type Step = (typeof steps)[number];
/** Narrower than this, the signs at the screws stand without their words, mm: the number pad needs the room. */
const narrowMm = 210;
/** Narrower than this, six steps in a row have small titles, mm. */
const smallTitlesMm = 224;

/** Before the work: what metal, what bone, which tools, what was agreed. In any order; anything may be left out. */
export function Briefing() {
  const app = useApp();
  const { w } = app;
  const [step, setStep] = createSignal<Step>('screws');
  const [shown, setShown] = createSignal<string | null>(null);
  const [refused, setRefused] = createSignal<string | null>(null);
  const ready = createReadiness(app);
  createLayoutGuard(() => `${step()} ${refused()}`);
  let body!: HTMLElement;
  const { room: whole, ref: measured } = createRoomOf(app, { width: 220, height: 150 });
  // Each step begins at its beginning.
  createEffect(on(step, () => (body.scrollTop = 0), { defer: true }));

  /** Numbers of the entries that the last touch made: they are taken back together. */
  const [batch, setBatch] = createSignal<readonly number[]>([]);
  const put = async (...drafts: EntryDraft[]) => {
    const before = app.open()?.entries.length ?? 0;
    const outcome = await app.session.recordAll(drafts);
    setBatch((app.open()?.entries ?? []).slice(before).map(({ n }) => n));
    setRefused(outcome.ok ? null : outcomeWords(w, outcome.reason));
    return outcome.ok;
  };
  const folded = () => app.open()?.folded;
  const opened = () => folded()?.case.context.room.opened;
  const phase = () => app.view()?.phase ?? 'briefing';
  const title: Record<Step, string> = {
    screws: w('briefing.step.screws'),
    bone: w('briefing.step.bone'),
    tools: w('briefing.step.tools'),
    consent: w('briefing.step.consent'),
    agreed: w('briefing.step.agreed'),
    start: w('briefing.step.start'),
  };
  const open = createMemo(() => (folded() ? consentOpen(folded()!) : []));
  /** What is done of a step, in a few words. */
  const done = (of: Step): string => {
    const context = folded()?.case.context;
    if (!context) return '';
    switch (of) {
      case 'screws':
        return folded()!.screws.size === 0
          ? w('briefing.none-listed')
          : w('briefing.count-listed', { count: folded()!.screws.size });
      case 'bone': {
        const { bone, boneAt } = context.room;
        if (!bone) return Object.keys(boneAt).length > 0 ? w('briefing.at-screws') : w('briefing.not-recorded');
        return bone.source === 'measured' ? w('briefing.measured') : w('briefing.bone-assumed');
      }
      case 'tools': {
        const bring = ready()?.bring.length ?? 0;
        if (bring > 0) return w('briefing.tools-bring', { bring });
        return w('briefing.tools-here', { count: new Set(context.room.tools.map(({ tool }) => tool)).size });
      }
      case 'consent':
        return open().length > 0 ? w('briefing.points-open', { count: open().length }) : w('briefing.points-all');
      case 'agreed':
        return w('briefing.people-count', { count: context.people.length });
      case 'start': {
        const now = app.open();
        if (app.view()?.holds.includes('hard-metal')) return w('briefing.hold-stands');
        return now ? w('briefing.gap-count', { count: gapsOf(now).length }) : '';
      }
    }
  };

  const last = () => app.open()?.entries.at(-1);
  const fresh = () => {
    const entry = last();
    if (!entry || entry.type === 'struck' || !batch().includes(entry.n)) return false;
    return app.tick() - epoch(entry.logged) < takeBackMs;
  };
  const said = () => {
    const entry = last();
    const content = folded()?.content;
    if (!entry || !content) return '';
    const sentence = narrate(entry, { content, running: undefined, again: false });
    return batch().length > 1 ? w('briefing.several-entries', { count: batch().length, last: sentence }) : sentence;
  };
  const takeBack = () => {
    const reason = w('briefing.taken-back');
    void put(...batch().map((entry): EntryDraft => ({ type: 'struck', entry, reason })));
  };
  const offered = () => (fresh() ? takeBack : undefined);
  const next = () => setStep(steps[Math.min(steps.indexOf(step()) + 1, steps.length - 1)] ?? 'start');
  /** The plan that is rehearsed just now; null: none is. Where the work begins elsewhere, the rehearsal is over. */
  const [rehearsing, setRehearsing] = createSignal<Plan | null>(null);
  const rehearsed = () => (app.view()?.phase === 'briefing' ? rehearsing() : null);
  createLayoutGuard(() => rehearsed() !== null);
  const rehearse = () => {
    const now = app.open();
    if (now)
      setRehearsing(
        planOf(
          now,
          untrack(() => forecastRates(app)),
        ),
      );
  };
  let aimed: Aim | null = null;
  const onAim = (aim: Aim) => {
    aimed = aim;
    setStep('tool' in aim ? 'tools' : 'screws');
  };
  /** Read once: a step that is opened again by its own touch begins at its beginning. */
  const aim = () => {
    const found = aimed;
    aimed = null;
    return found;
  };
  const props: StepProps = { put, ready, next, rehearse, shown, show: setShown, aim, onAim };

  return (
    <Show when={rehearsed()} keyed fallback={<Steps />}>
      {(plan) => (
        <Rehearsal
          plan={plan}
          across={acrossOf(app.session)}
          preferences={app.preferences}
          tick={app.tick}
          onClose={() => setRehearsing(null)}
        />
      )}
    </Show>
  );

  function Steps() {
    return (
      <main class="briefing" ref={measured} data-narrow={whole().width < smallTitlesMm ? '' : undefined}>
        <nav class="briefing-steps" aria-label={w('briefing.steps')}>
          <For each={steps}>
            {(one) => (
              <Touch size="card" current={step() === one} onAct={() => setStep(one)}>
                <span>{title[one]}</span>
                <small>{done(one)}</small>
              </Touch>
            )}
          </For>
        </nav>
        <header class="briefing-head">
          <div class="briefing-case">
            <p class="briefing-side">
              <b>{sideWord(w, opened()?.side ?? '')}</b> <span>{boneName(app.content(), opened()?.bone ?? '')}</span>
            </p>
            <div class="briefing-label small">
              <h1>{opened()?.label ?? ''}</h1>
              <Show when={app.open()?.meta.demo}>
                <b class="briefing-demo">{w('cases.invented')}</b>
              </Show>
            </div>
          </div>
          <Show when={last()}>
            {(entry) => (
              <Said
                time={inZone(epoch(entry().at), opened()?.zone ?? 'UTC').time}
                text={said()}
                takeBack={w('briefing.take-back')}
                onTakeBack={offered()}
              />
            )}
          </Show>
          <Show when={step() === 'start' && phase() === 'briefing'}>
            <StartWork put={put} ready={ready} />
          </Show>
          <Show when={phase() !== 'briefing'}>
            <Touch onAct={() => app.go('table')}>{w('briefing.to-the-table')}</Touch>
          </Show>
          <Touch onAct={() => app.go('cases')}>{w('briefing.to-cases')}</Touch>
        </header>
        <PlanBeside ready={ready()} called={shown()} narrow={whole().width < narrowMm} />
        <section class="briefing-body scrolls" ref={body} aria-label={title[step()]}>
          <Show when={refused()}>
            {(reason) => (
              <p class="refused" role="status">
                {w('briefing.refused', { reason: reason() })}
              </p>
            )}
          </Show>
          <Switch>
            <Match when={step() === 'screws'}>
              <Screws {...props} />
            </Match>
            <Match when={step() === 'bone'}>
              <Bone {...props} />
            </Match>
            <Match when={step() === 'tools'}>
              <Tools {...props} />
            </Match>
            <Match when={step() === 'consent'}>
              <Consent {...props} />
            </Match>
            <Match when={step() === 'agreed'}>
              <Agreed {...props} />
            </Match>
            <Match when={step() === 'start'}>
              <Start {...props} />
            </Match>
          </Switch>
        </section>
      </main>
    );
  }
}
