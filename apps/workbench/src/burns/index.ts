export { BurnLogPlace } from './place.js';
