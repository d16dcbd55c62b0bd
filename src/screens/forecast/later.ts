/** The forecast, and the sheet that prints it: with what they count with, needed before the operation and seldom in it. */
import { later } from '../later.tsx';

export const Forecast = later(() => import('./Forecast.tsx').then((script) => script.Forecast));
export const BriefSheet = later(() => import('../briefing/BriefSheet.tsx').then((script) => script.BriefSheet));
