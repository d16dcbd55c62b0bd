import type { Drive } from '../../../content/ids.ts';
import type { App } from '../app.ts';
import type { Facts } from './plan.ts';

/** The facts of a screw in words. */
export function createScrewWords({ w, content, open }: App) {
  /** A nail's locking bolt passes through a plain hole: only where its head is threaded into the nail is it locking. */
  const isBolt = () => open()?.folded.case.context.room.opened?.construct === 'nail';
  const kind = ({ locking, thread }: Facts): string => {
    if (locking === null) return w('briefing.kind.maybe-locking', { kind: kind({ thread, locking: false }) });
    if (thread === null && !locking) return w('briefing.kind.thread-unknown');
    if (thread === 'partly') return w('briefing.kind.partly');
    if (locking) return isBolt() ? w('briefing.kind.locks-in-nail') : w('briefing.kind.locking');
    if (thread === 'cancellous') return w('briefing.kind.cancellous');
    return isBolt() ? w('briefing.kind.bolt') : w('briefing.kind.cortical');
  };
  return {
    isBolt,
    kind,
    size: (facts: Facts) =>
      w('briefing.size', { diameter: facts.diameter ?? w('briefing.no-figure'), kind: kind(facts) }),
    drive: (drive: Drive, size?: number) => {
      const name = content().phrases.drives[drive];
      return size === undefined ? name : w('briefing.drive-size', { drive: name, size });
    },
    material: (material: NonNullable<Facts['material']>) =>
      material === 'steel'
        ? w('briefing.steel')
        : material === 'titanium'
          ? w('briefing.titanium')
          : material === 'cobalt-chromium'
            ? w('briefing.cobalt-chromium')
            : w('briefing.material-unknown'),
    cortices: (cortices: 1 | 2 | null) =>
      cortices === null
        ? w('briefing.cortices-unknown')
        : cortices === 1
          ? w('briefing.one-cortex')
          : w('briefing.two-cortices'),
    /** Form and washer; empty while neither is known. */
    form: ({ form, washer }: Facts) =>
      [
        ...(form === undefined ? [] : [w(`briefing.form.${form}`)]),
        ...(washer === undefined ? [] : [w(washer ? 'briefing.washer' : 'briefing.no-washer')]),
      ].join(', '),
  };
}
