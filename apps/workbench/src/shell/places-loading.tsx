import { lazy } from 'react';

/** Places come in chunks of their own, so that the first load stays small. */
export const JobSheet = lazy(async () => ({ default: (await import('../sheet/index.js')).JobSheet }));
export const ShopBookPlace = lazy(async () => ({ default: (await import('../book/index.js')).ShopBookPlace }));
export const BurnLogPlace = lazy(async () => ({ default: (await import('../burns/index.js')).BurnLogPlace }));
export const Desk = lazy(async () => ({ default: (await import('../desk/index.js')).Desk }));
export const Floor = lazy(async () => ({ default: (await import('../floor/index.js')).Floor }));
