/** What stands open between two screws, as lines: each says what an entry or the plan says, and nothing besides. */
import { isPlateOn } from '../../../machines/case.context.ts';
import { depth } from '../../../machines/screw.context.ts';
import { span } from '../../format/figures.ts';
import type { App } from '../app.ts';
import { waitWords } from './marks.ts';
import { openTips } from './tips.ts';

export interface Line {
  id: string;
  text: string;
  /** What else is known of it, at the end of the line. */
  aside?: string;
}

/**
 * Screws in trouble, deepest first; tips that nobody ended; metal that was cut and not washed out; the cuff; the time
 * against the plan.
 */
export function betweenLines(app: App): Line[] {
  const [view, open] = [app.view(), app.open()];
  if (!view || !open) return [];
  const { w, content } = app;
  const { phrases } = content();
  const context = open.folded.case.context;
  const inTrouble = Object.entries(view.screws)
    .filter(([, { stage }]) => !['seated', 'out', 'left-in'].includes(stage))
    .sort(([, a], [, b]) => depth(b.stage) - depth(a.stage));
  const { tourniquetUp, tourniquetMinutes, caseMinutes } = view.clocks;
  const limit = context.tourniquetLimit;
  return [
    ...inTrouble.map(([screw, now]): Line => {
      const wait = waitWords(app, now);
      return {
        id: `screw-${screw}`,
        text: w('between.screw', { screw, stage: phrases.stages[now.stage].label }),
        ...(wait !== null && { aside: wait }),
      };
    }),
    ...openTips(app).map(({ tool, told }): Line => ({
      id: `tip-${told[0] ?? ''}`,
      text: w('tip.mark', { tool: phrases.tools[tool].label }),
    })),
    ...(context.shavings ? [{ id: 'shavings', text: phrases.holds.shavings.label }] : []),
    ...(tourniquetUp
      ? [
          {
            id: 'cuff',
            text: w('between.cuff', { minutes: span(tourniquetMinutes) }),
            aside: limit === null ? w('between.no-limit') : w('clock.of', { limit }),
          },
        ]
      : []),
    ...(caseMinutes !== null && context.theatreMinutes !== null
      ? [
          {
            id: 'plan',
            text: w('between.plan', { minutes: span(caseMinutes), planned: span(context.theatreMinutes) }),
          },
        ]
      : []),
  ];
}

/** How many screws are out and how many were listed, and how the plate stands where there is one. */
export function betweenCounts(app: App): { out: string; plate: string | null } {
  const stages = Object.values(app.view()?.screws ?? {}).map(({ stage }) => stage);
  const room = app.open()?.folded.case.context.room;
  const hasPlate = room?.opened?.construct === 'plate';
  return {
    out: app.w('between.out', { out: stages.filter((stage) => stage === 'out').length, all: stages.length }),
    plate: room && hasPlate ? app.w(isPlateOn(room) ? 'between.plate-on' : 'between.plate-off') : null,
  };
}
