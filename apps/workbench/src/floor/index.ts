export { Floor } from './floor.js';
