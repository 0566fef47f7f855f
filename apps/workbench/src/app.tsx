import { DisplayProvider } from './units/index.js';

export function App() {
  return <DisplayProvider>{null}</DisplayProvider>;
}
