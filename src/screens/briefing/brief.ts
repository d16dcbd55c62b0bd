/** The brief sheet: the plan on one page, as a model. Pure; what nobody entered is named at its end. */
import { roles } from '../../../content/ids.ts';
import type { Outlook } from '../../../machines/forecast.ts';
import { verdictOf, type Readiness } from '../../../machines/readiness.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { ageOf } from '../../format/age.ts';
import { figure, millimetres, percent, span } from '../../format/figures.ts';
import { localeOf } from '../../record/locales/index.ts';
import { recorded, type Block, type Page, type Section } from '../../record/model.ts';
import { wasSet, type CaseLimit } from '../../session/effective.ts';
import type { OpenCase } from '../../session/session.ts';
import type { App } from '../app.ts';
import { chance, restsOn, screwLines, told } from '../forecast/outlook.ts';
import { disagreements } from './disagree.ts';
import { factsOf, gapsOf } from './plan.ts';
import { planFacts } from './plan-facts.ts';
import { assumedWords } from './assumed-words.ts';
import { createScrewWords } from './screw-words.ts';
import { listed, ranges } from '../../format/lists.ts';
import { deadEndWords, heldWords, measureWords, measuresOf } from './tool-words.ts';

export interface BriefInput {
  open: OpenCase;
  /** Null until a screw is listed. */
  ready: Readiness | null;
  /** Null while it is worked out. */
  outlook: Outlook | null;
}

const item = (id: string, label: string, ...lines: string[]): Block => ({
  kind: 'item',
  id,
  label,
  value: recorded(...lines),
});

/**
 * The brief sheet of an open case.
 *
 * @returns sections in a fixed order: metal, bone, dead ends, who brings what, limits, forecast, consent, record
 *   against films, what the trade says, people, what was not recorded
 */
export function briefOf(app: App, { open, ready, outlook }: BriefInput): Page {
  const { w } = app;
  const phrases = app.content().phrases;
  const { clean } = localeOf(phrases.language);
  const { context } = open.folded.case;
  const { room } = context;
  const opened = room.opened;
  const tools = (ids: readonly (keyof typeof phrases.tools)[]) => listed(ids.map((id) => phrases.tools[id].label));
  const section = (id: string, title: string, blocks: readonly Block[]): Section => ({
    id,
    title,
    blocks: [...blocks],
  });
  const list = (items: readonly string[]): Block[] => (items.length > 0 ? [{ kind: 'list', items: [...items] }] : []);
  const text = (line: string): Block => ({ kind: 'text', text: line });

  const placed = [
    opened?.placedBy && opened.placedBy !== 'unknown'
      ? w(opened.placedBy === 'same-team' ? 'plan.placed-same' : 'plan.placed-other')
      : w('plan.placed-unknown'),
    opened?.placedMonthsAgo === undefined
      ? w('plan.months-unknown')
      : w('plan.months', { age: ageOf(w, opened.placedMonthsAgo) }),
  ];
  const metal = section('metal', w('plan.brief.metal'), [
    item('planned', w('plan.brief.planned'), ...(opened?.planned.trim() ? [clean(opened.planned)] : [])),
    item(
      'construct',
      w('plan.brief.construct'),
      `${w(`plan.construct.${opened?.construct ?? 'screws'}`)}; ${listed(placed)}`,
    ),
    ...list(screwWords(app, open)),
  ]);

  const bones = [
    ...(room.bone ? [boneWord(app, w('plan.whole-bone'), room.bone)] : []),
    ...Object.entries(room.boneAt).map(([screw, bone]) => boneWord(app, w('plan.one-screw', { screw }), bone)),
  ];
  const bone = section('bone', w('plan.brief.bone'), [item('bone', w('plan.brief.bone-size'), ...bones)]);

  const dead = [...deadEndWords(app, ready, 'plan.brief.dead-end'), ...heldWords(app, ready)];
  const measure = measureWords(app, ready);
  const advice = (ready?.doNotStart ?? []).map(({ reason, missing }) =>
    reason === 'no-hard-metal-drill'
      ? phrases.holds['hard-metal'].help
      : w('briefing.no-way-past-text', { tools: tools(missing) }),
  );
  const ends = section('dead-ends', w('plan.brief.dead-ends'), [
    ...advice.map(text),
    ...(ready === null ? [text(w('briefing.room-unknown'))] : []),
    ...(ready ? [text(w(`briefing.verdict.${verdictOf(ready)}`))] : []),
    ...list(dead),
    ...(measure.length > 0 ? [text(`${w('briefing.measure')} ${measure.join(' ')}`)] : []),
  ]);

  const here = room.tools.map((tool) => {
    const measures = measuresOf(app, tool);
    return measures ? `${phrases.tools[tool.tool].label} (${measures})` : phrases.tools[tool.tool].label;
  });
  const bring = section('bring', w('plan.brief.bring'), [
    ...list((ready?.bring ?? []).map((id) => w('plan.brief.who-brings', { tool: phrases.tools[id].label }))),
    item('here', w('plan.brief.here'), ...(here.length > 0 ? [listed(here)] : [])),
  ]);

  const preset = (limit: CaseLimit) => (wasSet(open, limit) ? '' : ` ${w('plan.brief.not-agreed')}`);
  const limits = section('limits', w('plan.brief.limits'), [
    ...list([
      w('plan.brief.limit-bone', {
        consider: percent(room.limits.boneConsider) + preset('boneConsider'),
        stop: percent(room.limits.boneStop) + preset('boneStop'),
      }),
      w('plan.brief.limit-tourniquet', {
        time:
          context.tourniquetLimit === null
            ? w('briefing.limit-none')
            : span(context.tourniquetLimit) + preset('tourniquetMinutes'),
      }),
      context.theatreMinutes === null
        ? w('plan.brief.no-theatre')
        : w('plan.brief.theatre', { time: span(context.theatreMinutes) }),
    ]),
  ]);

  const confirmed = app.content().consent.filter(({ id }) => context.consent[id] === true);
  const consent = section('consent', w('plan.brief.consent'), [
    item(
      'open',
      w('plan.brief.consent-open'),
      listed((ready?.consentOpen ?? []).map((point) => phrases.consent[point].label)) || w('plan.brief.none-open'),
    ),
    item(
      'seen',
      w('plan.brief.consent-seen'),
      ...(confirmed.length > 0 ? [listed(confirmed.map(({ id }) => phrases.consent[id].label))] : []),
    ),
  ]);

  const differ = disagreements(open, w).map(clean);
  const people = roles.flatMap((role) => {
    const who = context.people.filter((person) => person.role === role).map((person) => clean(person.who));
    return who.length > 0 ? [w('plan.brief.person', { role: w(`briefing.role.${role}`), who: listed(who) })] : [];
  });
  const gaps = gapsOf(open).map(({ key, screws }) => (screws.length > 0 ? w(key, { screws: ranges(screws) }) : w(key)));
  const assumed = ready ? assumedWords(app, ready.assumed) : [];
  return {
    title: w('plan.brief.title'),
    sections: [
      metal,
      ends,
      bring,
      section(
        'forecast',
        w('plan.brief.forecast'),
        outlook ? list(forecastWords(app, outlook)) : [text(w('plan.working-out'))],
      ),
      bone,
      limits,
      consent,
      section('differ', w('plan.disagree'), differ.length > 0 ? list(differ) : [text(w('plan.brief.none-differ'))]),
      section('facts', w('plan.facts'), list(planFacts(open.folded, w))),
      section('people', w('plan.brief.people'), people.length > 0 ? list(people) : [text(w('briefing.not-recorded'))]),
      section('gaps', w('plan.brief.gaps'), [
        ...list(gaps.length > 0 ? [listed(gaps)] : [w('briefing.no-gaps')]),
        ...(assumed.length > 0 ? [text(w('briefing.assumed-list', { what: listed(assumed) }))] : []),
      ]),
    ],
  };
}

const boneWord = (
  { w }: App,
  where: string,
  { outer, cortex, source }: { outer: number; cortex: number; source: string },
) =>
  w(source === 'measured' ? 'plan.brief.bone-measured' : 'plan.brief.bone-assumed', {
    where,
    outer,
    cortex: millimetres(cortex),
  });

/** Screws that are alike but for their length, in one line each. */
function screwWords(app: App, open: OpenCase): string[] {
  const { w } = app;
  const words = createScrewWords(app);
  const lines = new Map<string, { ids: string[]; lengths: (number | null)[]; what: string }>();
  for (const [id, { context }] of open.folded.screws) {
    const facts = factsOf(context.facts);
    const what = listed([
      words.size(facts),
      words.drive(context.facts.drive, facts.driveSize),
      words.material(context.facts.material),
      words.cortices(context.facts.cortices),
      ...(context.stage === 'seated' ? [] : [app.content().phrases.stages[context.stage].label]),
      ...(isWorking(context.stage) ? [] : [w('plan.brief.ended')]),
    ]);
    const { length } = context.facts;
    const key = `${what} ${length === null}`;
    const line = lines.get(key);
    if (line) {
      line.ids.push(id);
      line.lengths.push(length);
    } else lines.set(key, { ids: [id], lengths: [length], what });
  }
  return [...lines.values()].map(({ ids, lengths, what }) =>
    w('plan.brief.screws', {
      screws: ranges(ids),
      what,
      lengths:
        lengths[0] === null
          ? w('plan.brief.length-unknown')
          : w('plan.brief.long', {
              lengths: listed(new Set(lengths).size === 1 ? [lengths[0] as number] : (lengths as number[])),
            }),
    }),
  );
}

function forecastWords(app: App, outlook: Outlook): string[] {
  const { w } = app;
  const { p10, p50, p90 } = outlook.case.minutes;
  const inOrder = Object.keys(outlook.screws);
  // Screws of which the same is said are named together.
  const chances = new Map<string, { screws: string[]; out: string; moves: string }>();
  for (const line of screwLines(outlook)) {
    const said = { out: chance(app, line.out), moves: figure(line.moves.toFixed(1)) };
    const key = JSON.stringify(said);
    chances.set(key, { ...said, screws: [...(chances.get(key)?.screws ?? []), ...line.screws] });
  }
  return [
    w('plan.picture', { low: span(told(p10)), middle: span(told(p50)), high: span(told(p90)) }),
    w('plan.all-out', { out: chance(app, outlook.case.allOut), left: chance(app, outlook.case.anyStays) }),
    ...[...chances.values()].map(({ screws, out, moves }) =>
      w('plan.brief.screw-chance', { screws: ranges(inOrder.filter((id) => screws.includes(id))), out, moves }),
    ),
    restsOn(app, outlook.knows),
  ];
}
