import { Show } from 'solid-js';
import { tickMinutes, type Outlook } from '../../../machines/forecast.ts';
import { span } from '../../format/figures.ts';
import { Spread } from '../../pictures/Spread.tsx';
import { useApp } from '../app.ts';
import { chance, createOutlook, restsOn, told } from './outlook.ts';
import './forecast.css';

/** How likely the operation ends when, with its three marks in words and the time planned. */
export function Curve(props: { outlook: Outlook }) {
  const app = useApp();
  const { w } = app;
  const minutes = () => props.outlook.case.minutes;
  const time = (of: number) => span(told(of));
  return (
    <Spread
      ends={{ shares: props.outlook.ends, tick: tickMinutes }}
      marks={[minutes().p10, minutes().p50, minutes().p90]}
      words={(['p10', 'p50', 'p90'] as const).map((mark) => ({
        term: w(`plan.${mark}`),
        value: time(minutes()[mark]),
      }))}
      planned={app.open()?.folded.case.context.theatreMinutes ?? null}
      worked={props.outlook.worked}
      label={w('plan.picture', {
        low: time(minutes().p10),
        middle: time(minutes().p50),
        high: time(minutes().p90),
      })}
      hour={(hours) => w('plan.hour', { hours })}
    />
  );
}

/** The curve of the open case beside its plan, with what it says of what stays and what it rests on. */
export function CurveNow() {
  const app = useApp();
  const { w } = app;
  const outlook = createOutlook(app);
  return (
    <figure class="curve-now">
      <Show
        when={outlook()}
        fallback={
          <p role="status" class="soft">
            {(app.open()?.folded.screws.size ?? 0) === 0 ? w('plan.no-screws') : w('plan.working-out')}
          </p>
        }
      >
        {(found) => (
          <>
            <Curve outlook={found()} />
            <figcaption class="small">
              {w('plan.stays', { left: chance(app, found().case.anyStays) })} {restsOn(app, found().knows)}
            </figcaption>
          </>
        )}
      </Show>
    </figure>
  );
}
