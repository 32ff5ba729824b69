/** The local page: a server on this machine, and what it shows in a browser. */
export { startServer, type RunningServer, type ServerOptions } from './server/start-server.js';
export { isLoopback } from './server/hosts.js';
