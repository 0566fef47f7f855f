import { allSources, type Problem, problem } from '@gapwright/base';
// Declares the program's own sources, which a book must not contradict.
import './sources.js';
import { cautionById } from './cautions.js';
import type { RawShopBook } from './shop-book-schema.js';

/** What the schema cannot see: ids that must exist or be unique, orders, and levels that must agree with each other. */
export function crossCheckShopBook(book: RawShopBook): Problem[] {
  const problems: Problem[] = [];
  const stop = (code: string, field: string, what: string, fix: string): void => {
    problems.push(problem({ code, severity: 'stop', what: `Shop book, ${field}: ${what}`, fix, at: { field } }));
  };
  checkUnique(book, stop);
  checkSources(book, stop);
  checkReferences(book, stop);
  checkLevels(book, stop);
  checkOrders(book, stop);
  return problems;
}

type Stop = (code: string, field: string, what: string, fix: string) => void;

function checkUnique(book: RawShopBook, stop: Stop): void {
  const lists = ['sources', 'wires', 'wireMachines', 'drillMachines'] as const;
  for (const list of lists) {
    const seen = new Map<string, number>();
    book[list].forEach((entry, k) => {
      const key = entry.id.toLowerCase();
      const first = seen.get(key);
      if (first === undefined) seen.set(key, k);
      else
        stop('PROCESS-BOOK-DUPLICATE', `${list}[${k}].id`, `"${entry.id}" is already ${list}[${first}]`, 'Rename one');
    });
  }
  const machineIds = new Set(book.wireMachines.map((m) => m.id.toLowerCase()));
  book.drillMachines.forEach((machine, k) => {
    if (machineIds.has(machine.id.toLowerCase())) {
      stop('PROCESS-BOOK-DUPLICATE', `drillMachines[${k}].id`, `"${machine.id}" is also a wire machine`, 'Rename one');
    }
  });
  const names = new Map<string, string>();
  book.materials.forEach((material, k) => {
    [material.id, ...material.aliases].forEach((name, n) => {
      const field = n === 0 ? `materials[${k}].id` : `materials[${k}].aliases[${n - 1}]`;
      const first = names.get(name.toLowerCase());
      if (first === undefined) names.set(name.toLowerCase(), field);
      else stop('PROCESS-BOOK-DUPLICATE', field, `"${name}" is already ${first}`, 'Remove or rename one');
    });
  });
}

/** Every `source` named anywhere must be listed, and may not contradict a source the program itself declares. */
function checkSources(book: RawShopBook, stop: Stop): void {
  const known = new Set(book.sources.map((s) => s.id));
  book.sources.forEach((source, k) => {
    const built = allSources().get(source.id);
    if (built !== undefined && (built.title !== source.title || built.standing !== source.standing)) {
      stop(
        'PROCESS-BOOK-SOURCE',
        `sources[${k}].id`,
        `"${source.id}" is one of the program's own sources and says something else there`,
        'Give this source another id',
      );
    }
  });
  const walk = (at: unknown, path: string): void => {
    if (typeof at !== 'object' || at === null) return;
    for (const [key, inner] of Object.entries(at)) {
      const step = Array.isArray(at) ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
      if ((key === 'source' || key === 'diameterSource') && typeof inner === 'string' && !known.has(inner)) {
        stop(
          'PROCESS-BOOK-SOURCE',
          step,
          `source "${inner}" is not listed`,
          'Add it under "sources" or correct the id',
        );
      } else walk(inner, step);
    }
  };
  for (const [key, part] of Object.entries(book)) if (key !== 'sources') walk(part, key);
}

function checkReferences(book: RawShopBook, stop: Stop): void {
  const wires = new Set(book.wires.map((w) => w.id));
  book.wireMachines.forEach((machine, k) => {
    machine.wireIds.forEach((id, n) => {
      if (!wires.has(id)) {
        stop(
          'PROCESS-BOOK-UNKNOWN-ID',
          `wireMachines[${k}].wireIds[${n}]`,
          `no wire "${id}"`,
          'Add the wire or remove it',
        );
      }
    });
  });
  const materialIds = new Set(book.materials.map((m) => m.id));
  book.materials.forEach((material, k) => {
    material.cautions.forEach((id, n) => {
      if (cautionById(id) === undefined) {
        stop('PROCESS-BOOK-UNKNOWN-ID', `materials[${k}].cautions[${n}]`, `no caution "${id}"`, 'Correct the id');
      }
    });
    if (!Object.hasOwn(book.rates.materialPricePerKg, material.id)) {
      stop(
        'PROCESS-BOOK-NO-PRICE',
        `rates.materialPricePerKg`,
        `no price for material "${material.id}"`,
        `Add "${material.id}"`,
      );
    }
    if ((material.drillFeedMmPerMin === null) !== (material.drillWearRatio === null)) {
      stop(
        'PROCESS-BOOK-FIELD',
        `materials[${k}]`,
        `"${material.id}" gives only one of drilling feed and tube wear`,
        'Give both, or null for both',
      );
    }
  });
  for (const id of Object.keys(book.rates.materialPricePerKg)) {
    if (!materialIds.has(id)) {
      stop(
        'PROCESS-BOOK-UNKNOWN-ID',
        `rates.materialPricePerKg.${id}`,
        `no material "${id}"`,
        'Add it or remove the price',
      );
    }
  }
  const reference = book.materials.find((m) => m.id === book.rules.referenceMaterialId);
  if (reference === undefined) {
    const id = book.rules.referenceMaterialId;
    stop('PROCESS-BOOK-UNKNOWN-ID', 'rules.referenceMaterialId', `no material "${id}"`, 'Name a listed material');
  } else if (reference.wireRateFactor.value !== 1) {
    stop(
      'PROCESS-BOOK-REFERENCE',
      'rules.referenceMaterialId',
      `"${reference.id}" has wire rate factor ${reference.wireRateFactor.value}, but all factors are relative to it`,
      'Set its factor to 1 or choose another reference',
    );
  }
}

function checkLevels(book: RawShopBook, stop: Stop): void {
  book.wireLevels.forEach((level, k) => {
    const field = `wireLevels[${k}]`;
    if (level.level !== k + 1) {
      stop(
        'PROCESS-BOOK-LEVELS',
        `${field}.level`,
        `level ${level.level} stands at place ${k + 1}`,
        'Number them 1, 2, 3 …',
      );
    }
    const rough = k === 0;
    if ((level.areaRateMm2PerMin === null) === rough || (level.feedMmPerMin !== null) === rough) {
      stop(
        'PROCESS-BOOK-LEVELS',
        field,
        rough ? 'the rough level needs an area rate and no feed' : 'a skim needs a feed and no area rate',
        'Give the one and set the other to null',
      );
    }
    if ((level.stockMm === null) !== rough) {
      stop(
        'PROCESS-BOOK-LEVELS',
        `${field}.stockMm`,
        rough ? 'the rough level takes the full kerf, not a stock' : 'a skim must say what stock it takes',
        rough ? 'Set it to null' : 'Give the stock',
      );
    }
    const before = book.wireLevels[k - 1];
    if (before === undefined) return;
    for (const name of [
      'gapMm',
      'raUm',
      'recastUm',
      'profileAccuracyMm',
      'meanPowerW',
      'gapForceNPerM',
      'wireSensitivity',
    ] as const) {
      if (level[name].value > before[name].value) {
        stop(
          'PROCESS-BOOK-LEVELS',
          `${field}.${name}.value`,
          `${level[name].value} is larger than ${before[name].value} of the level before`,
          'Levels run from coarse to fine',
        );
      }
    }
  });
}

function checkOrders(book: RawShopBook, stop: Stop): void {
  book.thicknessFactors.forEach((point, k) => {
    const before = book.thicknessFactors[k - 1];
    if (before !== undefined && point.heightMm.value <= before.heightMm.value) {
      stop(
        'PROCESS-BOOK-ORDER',
        `thicknessFactors[${k}].heightMm.value`,
        `${point.heightMm.value} does not follow ${before.heightMm.value}`,
        'List heights in ascending order',
      );
    }
  });
  const ascending = (sizes: readonly number[], field: string): void => {
    sizes.forEach((size, k) => {
      if (k > 0 && size <= sizes[k - 1]!) {
        stop(
          'PROCESS-BOOK-ORDER',
          `${field}[${k}]`,
          `${size} does not follow ${sizes[k - 1]}`,
          'List sizes in ascending order',
        );
      }
    });
  };
  ascending(book.startHoleSizesMm, 'startHoleSizesMm');
  book.drillMachines.forEach((machine, k) => {
    ascending(machine.holeSizesMm, `drillMachines[${k}].holeSizesMm`);
  });
  const { tabMinMm, tabMaxMm, freeFallMassG, supportMassG } = book.rules;
  if (tabMinMm.value > tabMaxMm.value) {
    stop('PROCESS-BOOK-ORDER', 'rules.tabMinMm.value', 'the shortest tab is longer than the longest', 'Swap them');
  }
  if (freeFallMassG.value > supportMassG.value) {
    stop('PROCESS-BOOK-ORDER', 'rules.freeFallMassG.value', 'free fall ends above where support starts', 'Swap them');
  }
}
