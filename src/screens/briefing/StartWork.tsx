import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { drillQuestion } from './drill.ts';
import type { StepProps } from './step.ts';

/** The one likeliest thing once the plan stands: filled with paper. Closed only by the question of the drill. */
export function StartWork(props: Pick<StepProps, 'put' | 'ready'>) {
  const app = useApp();
  const { w } = app;
  const drill = drillQuestion(app, props);
  const start = async () => {
    if (await props.put({ type: 'work-started' })) app.go('table');
  };
  return (
    <Touch class="likeliest" onAct={() => void start()} closed={drill.asked() ? w('briefing.answer-first') : undefined}>
      {w('briefing.start-work')}
    </Touch>
  );
}
