import { BrowserRouter } from 'react-router';
import { createEngine, EngineProvider } from './engine/index.js';
import { KeepingProvider } from './keeping/index.js';
import { Frame } from './shell/frame.js';
import { PlaceRoutes } from './shell/routes.js';
import { DisplayProvider } from './units/index.js';

/** One for the page; its workers start with the first question. */
const engine = createEngine();

/** Shown when the page could not be completed at all. */
function Unopened({ says }: { readonly says: string }) {
  return (
    <main className="shell-leaf" role="alert">
      <h1>Gapwright could not be opened</h1>
      <p>{says}</p>
      <p>Load the page again; what was kept before is untouched.</p>
    </main>
  );
}

export function App() {
  return (
    <BrowserRouter>
      <KeepingProvider failed={(says) => <Unopened says={says} />}>
        <DisplayProvider>
          <EngineProvider engine={engine}>
            <Frame>
              <PlaceRoutes />
            </Frame>
          </EngineProvider>
        </DisplayProvider>
      </KeepingProvider>
    </BrowserRouter>
  );
}
