import { tablets } from './looks.ts';
import { secondScreensAt } from './second-screens-walk.ts';

secondScreensAt({ ...tablets.light, keeps: 'next-light', whole: true });
