export * from './cost-build-up.js';
export * from './offer.js';
export * from './price-drivers.js';
