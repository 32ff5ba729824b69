/** The setups that were measured with last. */
export { openSetups, type Setups } from './open-setups.js';
export { setupRoutes } from './setup-routes.js';
