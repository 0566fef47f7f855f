import './look/tokens.css';
import './look/base.css';
import './kit/kit.css';
import './shell/shell.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.js';
import { rememberedTheme, showTheme } from './shell/theme.js';

showTheme(rememberedTheme());
createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
