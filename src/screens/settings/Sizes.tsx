import { For } from 'solid-js';
import { figure } from '../../format/figures.ts';
import { angles, capHeightMm, fontPx } from '../../parts/type-size.ts';
import { useApp } from '../app.ts';
import { pxPerMm } from '../size.ts';

/** Heights of capitals for whom and from where, in mm and in px of this screen, with the standard they follow. */
export function Sizes() {
  const app = useApp();
  const { w } = app;
  const rows = () => {
    const { distance } = app.preferences();
    return [
      { who: w('settings.row.surgeon-start'), distance, angle: angles.start },
      { who: w('settings.row.surgeon-good'), distance, angle: angles.preferred },
      { who: w('settings.row.surgeon-least'), distance, angle: angles.floor },
      { who: w('settings.row.stage'), distance: 2, angle: angles.floor },
      { who: w('settings.row.nurse'), distance: 0.7, angle: angles.preferred },
      { who: w('settings.row.nurse-least'), distance: 0.7, angle: angles.floor },
    ];
  };
  const perMm = () => pxPerMm(app.preferences());
  return (
    <>
      <p>{app.preferences().pxPerMm === null ? w('settings.not-calibrated-sizes') : w('settings.calibrated-sizes')}</p>
      <table class="sizes-table">
        <thead>
          <tr>
            <th scope="col">{w('settings.col.text')}</th>
            <th scope="col">{w('settings.col.distance')}</th>
            <th scope="col">{w('settings.col.angle')}</th>
            <th scope="col">{w('settings.col.mm')}</th>
            <th scope="col">{w('settings.col.px')}</th>
          </tr>
        </thead>
        <tbody>
          <For each={rows()}>
            {({ who, distance, angle }) => {
              const mm = capHeightMm(distance, angle);
              return (
                <tr>
                  <th scope="row">{who}</th>
                  <td class="figure">{w('settings.metres', { metres: distance })}</td>
                  <td class="figure">{w('settings.arcmin', { angle })}</td>
                  <td class="figure">{w('settings.mm', { mm: figure(mm.toFixed(1)) })}</td>
                  <td class="figure">
                    {w('settings.px', { cap: (mm * perMm()).toFixed(0), font: fontPx(mm, perMm()).toFixed(0) })}
                  </td>
                </tr>
              );
            }}
          </For>
        </tbody>
      </table>
      <ul class="small standards">
        <li>{w('settings.standard-iso')}</li>
        <li>{w('settings.standard-iso-later')}</li>
        <li>{w('settings.standard-floor')}</li>
        <li>{w('settings.standard-formula')}</li>
      </ul>
    </>
  );
}
