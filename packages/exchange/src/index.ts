export * from './dxf/drawing.js';
export { type ReadDxfOptions, readDxf } from './dxf/read-dxf.js';
