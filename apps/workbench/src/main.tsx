import './look/tokens.css';
import './look/base.css';
import './kit/kit.css';
import './shell/shell.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.js';
import { keepPageOffline } from './offline/index.js';

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <App />
  </StrictMode>,
);

void keepPageOffline();
