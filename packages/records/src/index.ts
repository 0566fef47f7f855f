export * from './api.js';
export * from './book-record.js';
export * from './burn-record.js';
export * from './offer-record.js';
export * from './revision.js';
