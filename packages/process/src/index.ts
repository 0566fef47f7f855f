export * from './cautions.js';
export * from './find.js';
export * from './parse-shop-book.js';
export * from './shop-book.js';
