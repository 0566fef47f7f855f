export interface BookMachine {
  readonly id: string;
  readonly name: string;
}

function machinesIn(list: unknown): readonly BookMachine[] {
  if (!Array.isArray(list)) return [];
  return list.flatMap((entry: unknown) => {
    if (typeof entry !== 'object' || entry === null || !('id' in entry) || typeof entry.id !== 'string') return [];
    const name = 'name' in entry && typeof entry.name === 'string' ? entry.name : entry.id;
    return [{ id: entry.id, name }];
  });
}

/** The machines a shop book names, as far as the floor needs them: id and name. The book was validated when it was kept. */
export function bookMachines(book: unknown): readonly BookMachine[] {
  if (typeof book !== 'object' || book === null) return [];
  const { wireMachines, drillMachines } = book as { readonly wireMachines?: unknown; readonly drillMachines?: unknown };
  return [...machinesIn(wireMachines), ...machinesIn(drillMachines)];
}
