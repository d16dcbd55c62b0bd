/** The question of the hard-metal drill, which has to be answered before the work starts. */
import type { Readiness } from '../../../machines/readiness.ts';
import type { App } from '../app.ts';
import { hardMetalAnswer } from './plan.ts';

/** What of the question stands: whether it has to be answered, and how it was. */
export function drillQuestion(app: App, props: { ready: () => Readiness | null }) {
  const answer = () => {
    const open = app.open();
    return open ? hardMetalAnswer(open) : null;
  };
  const blocked = () => props.ready()?.doNotStart.some(({ reason }) => reason === 'no-hard-metal-drill') ?? false;
  /** The answer was not to start, and nothing has changed since. */
  const stopped = () => blocked() && answer() === 'stop';
  const asked = () => (app.view()?.holds.includes('hard-metal') ?? false) || stopped();
  return { stopped, asked, passed: () => !asked() && blocked() && answer() === 'go-on' };
}
