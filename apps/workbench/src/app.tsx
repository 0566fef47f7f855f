import { BrowserRouter } from 'react-router';
import { Frame } from './shell/frame.js';
import { PlaceRoutes } from './shell/routes.js';
import { DisplayProvider } from './units/index.js';

export function App() {
  return (
    <BrowserRouter>
      <DisplayProvider>
        <Frame>
          <PlaceRoutes />
        </Frame>
      </DisplayProvider>
    </BrowserRouter>
  );
}
