/** The forecast, with what it counts with: needed before the operation and seldom in it. */
import { later } from '../later.tsx';

export const Forecast = later(() => import('./Forecast.tsx').then((script) => script.Forecast));
export const CurveNow = later(() => import('./Curve.tsx').then((script) => script.CurveNow));
