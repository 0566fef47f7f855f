import { readFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { demoFile } from './harness.js';

export interface DroppedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Planning, proving and the tried changes of one job, on a machine that does other work too. */
export const PLANNED_WITHIN_MS = 60_000;

/** A die plate whose opening has inside corners of 0.2 mm; its layers, height and the rest are answered by hand. */
export const PLATE: DroppedFile = {
  name: 'plate.dxf',
  bytes: readFileSync(demoFile('blade-die-plate/blade-die-plate.dxf')),
};

export const ANSWERS = {
  material: 'D2',
  'How high is the work, mm?': '24',
  'Which profile tolerance, plus or minus, mm?': '0.004',
  'Which surface, Ra in µm?': '0.6',
  'How many pieces?': '2',
} as const;

export const NUMBER_QUESTIONS = Object.entries(ANSWERS).filter(([asks]) => asks !== 'material');

/** Lets files fall on the middle of the page, with the events a browser sends for them. */
export async function dropFiles(page: Page, files: readonly DroppedFile[]): Promise<void> {
  await page.evaluate(
    (given) => {
      const transfer = new DataTransfer();
      for (const { name, bytes } of given) transfer.items.add(new File([new Uint8Array(bytes)], name));
      const on = document.elementFromPoint(innerWidth / 2, innerHeight / 2) ?? document.body;
      for (const type of ['dragenter', 'dragover', 'drop'])
        on.dispatchEvent(new DragEvent(type, { dataTransfer: transfer, bubbles: true, cancelable: true }));
    },
    files.map(({ name, bytes }) => ({ name, bytes: [...bytes] })),
  );
}

export function section(page: Page, name: string): Locator {
  return page.getByRole('region', { name, exact: true });
}

/** Waits until every question is answered and the program is proved. */
export async function waitProven(page: Page): Promise<void> {
  await section(page, 'Proof').getByText('Proven', { exact: true }).waitFor({ timeout: PLANNED_WITHIN_MS });
}

/** Waits until the sheet works nothing out any more and what is shown belongs to the job as it is. */
export async function waitIdle(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      document.querySelector('.sheet-state progress') === null &&
      document.querySelector('[data-stale="true"]') === null,
    null,
    { timeout: PLANNED_WITHIN_MS },
  );
}

/** Opens a desk without a job and puts the plate on it. */
export async function dropPlate(page: Page): Promise<void> {
  await page.getByRole('heading', { name: 'Desk', level: 1 }).waitFor();
  await dropFiles(page, [PLATE]);
  await section(page, 'Questions').waitFor();
}

/** Answers every question with the mouse; a box takes its number when the next one is clicked. */
export async function answerByMouse(page: Page): Promise<void> {
  const questions = section(page, 'Questions');
  await page.getByRole('checkbox', { name: /^PLATE/ }).click();
  await questions.getByRole('button', { name: /Which material/ }).click();
  await page.getByRole('option', { name: new RegExp(`\\b${ANSWERS.material}\\b`) }).click();
  for (const [asks, value] of NUMBER_QUESTIONS) {
    await questions.getByRole('textbox', { name: asks }).click();
    await page.keyboard.type(value);
  }
  await page.getByRole('heading', { name: 'Requirements' }).click();
  await questions.waitFor({ state: 'detached' });
}

/** A money amount as it stands on the page, without its currency and spaces. */
export function amountIn(text: string): string {
  const amount = /\d[\d\s,\u00a0\u202f]*(?:\.\d+)?/.exec(text)?.[0];
  if (amount === undefined) throw new Error(`no amount in “${text}”`);
  return amount.replaceAll(/[\s,\u00a0\u202f]/g, '');
}
