export { ShopBookPlace } from './place.js';
