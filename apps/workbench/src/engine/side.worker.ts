import { openFigure, readEnquiry, summariseBurns } from '@gapwright/job';
import { parseShopBook } from '@gapwright/process';
import { checkBook } from './check-book.js';
import { importBurns } from './import-burns.js';
import type { FromSideWorker, SideQuestions, ToSideWorker } from './side-messages.js';

// Small questions of the other places; started with the first of them.
self.onmessage = async ({ data }: MessageEvent<ToSideWorker>) => {
  const say = (message: FromSideWorker): void => self.postMessage(message);
  try {
    say({ id: data.id, answer: await answerTo(data) });
  } catch (fault) {
    say({ id: data.id, fault: fault instanceof Error ? fault.message : String(fault) });
  }
};

async function answerTo(question: ToSideWorker): Promise<SideQuestions[ToSideWorker['name']]['answer']> {
  switch (question.name) {
    case 'checkBook':
      return checkBook(question.ask.kind, question.ask.json);
    case 'readEnquiry': {
      const { value: book } = parseShopBook(question.ask.bookJson);
      return book === null ? [] : readEnquiry(question.ask.text, book, question.ask.today);
    }
    case 'summariseBurns':
      return summariseBurns(question.ask.burns, question.ask.bookJson);
    case 'importBurns':
      return importBurns(question.ask.bytes, question.ask.fileName);
    case 'openIn':
      return openFigure(question.ask.table, question.ask.figureId);
  }
}
