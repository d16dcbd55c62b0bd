import { render } from 'solid-js/web';
import './fonts.css';

render(() => <h1>Counterturn</h1>, document.getElementById('app')!);
if ('serviceWorker' in navigator) void navigator.serviceWorker.register('./sw.js');
