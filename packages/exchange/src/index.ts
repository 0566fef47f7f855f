export * from './dxf/drawing.js';
export { type ReadDxfOptions, readDxf } from './dxf/read-dxf.js';
export * from './profile/profile-drawing.js';
export { type ProfileOptions, profileFromDrawing } from './profile/profile-from-drawing.js';
export { type DrawingUnits, MM_PER_UNIT } from './profile/units.js';
export { readXlsxCells } from './table/read-xlsx.js';
export { type OutputLayer, writeDxf } from './write/write-dxf.js';
