import { tablets } from './looks.ts';
import { secondScreensAt } from './second-screens-walk.ts';

secondScreensAt({ ...tablets.dark, keeps: 'next-dark', whole: true });
