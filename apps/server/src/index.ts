export { defaultDataDir } from './data-directory.js';
export { StartError } from './start-error.js';
export { type RunningServer, type ServerOptions, startServer } from './start-server.js';
