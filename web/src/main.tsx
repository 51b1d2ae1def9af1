import { render } from 'preact';
import './style/ink.css';
import './style/sheet.css';
import './style/layout.css';
import './style/print.css';
import { App } from './app';
import { startGaugeWatch } from './parts/active_field';
import { fetchTheRest } from './parts/later';
import { startAwayWatch } from './state/away';
import { startShortcuts } from './state/shortcuts';
import { startSession } from './state/start';

const root = document.getElementById('app');
if (root) render(<App />, root);
startGaugeWatch();
startShortcuts();
startAwayWatch();
void startSession().then(fetchTheRest);
