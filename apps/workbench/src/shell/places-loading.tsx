import { type ComponentType, lazy } from 'react';

/** Places that come in their own chunk, so that the first load stays small. */
const sheet = import.meta.glob<{ JobSheet: ComponentType<{ readonly jobId: string }> }>('../sheet/index.ts');
const book = import.meta.glob<{ ShopBookPlace: ComponentType }>('../book/index.ts');
const burns = import.meta.glob<{ BurnLogPlace: ComponentType }>('../burns/index.ts');

function Missing({ name }: { readonly name: string }) {
  return (
    <section className="shell-leaf">
      <h1>{name}</h1>
      <p>This place is not built yet.</p>
    </section>
  );
}

export const JobSheet = lazy(async (): Promise<{ default: ComponentType<{ readonly jobId: string }> }> => {
  const load = Object.values(sheet)[0];
  return { default: load === undefined ? () => <Missing name="Job sheet" /> : (await load()).JobSheet };
});
export const ShopBookPlace = lazy(async () => {
  const load = Object.values(book)[0];
  return { default: load === undefined ? () => <Missing name="Shop book" /> : (await load()).ShopBookPlace };
});
export const BurnLogPlace = lazy(async () => {
  const load = Object.values(burns)[0];
  return { default: load === undefined ? () => <Missing name="Burn log" /> : (await load()).BurnLogPlace };
});
export const Desk = lazy(async () => ({ default: (await import('../desk/index.js')).Desk }));
export const Floor = lazy(async () => ({ default: (await import('../floor/index.js')).Floor }));
