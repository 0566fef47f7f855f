import type { PaperRequest } from '@gapwright/records';
import { useEffect, useState } from 'react';
import { useKeepingActions } from '../../keeping/index.js';
import { Button, SheetDialog } from '../../kit/index.js';
import type { Paper } from './paper-list.js';

interface PaperPreviewProps {
  readonly paper: Paper;
  readonly request: PaperRequest;
  readonly onClose: () => void;
  readonly onDownload: () => void;
}

/** The pages of a paper as they will print. */
export function PaperPreview({ paper, request, onClose, onDownload }: PaperPreviewProps) {
  const { paperPages, paperPdf } = useKeepingActions();
  const [pages, setPages] = useState<readonly string[] | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const key = JSON.stringify(request);
  useEffect(() => {
    let isWanted = true;
    let urls: string[] = [];
    paperPages(JSON.parse(key) as PaperRequest).then(
      (svgs) => {
        if (!isWanted) return;
        urls = svgs.map((svg) => URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' })));
        setPages(urls);
      },
      (error: unknown) => isWanted && setFault(error instanceof Error ? error.message : String(error)),
    );
    return () => {
      isWanted = false;
      for (const url of urls) URL.revokeObjectURL(url);
    };
  }, [paperPages, key]);

  /** The browser's own viewer shows the PDF and prints it; it stays open beside the page. */
  const openToPrint = (): void => {
    const viewer = window.open('', '_blank');
    paperPdf({ ...request, form: 'pdf' }).then(
      (pdf) => {
        const url = URL.createObjectURL(pdf);
        if (viewer === null)
          setFault('The browser did not open a window. Allow windows for this page, or download the PDF.');
        else viewer.location.href = url;
      },
      (error: unknown) => {
        viewer?.close();
        setFault(error instanceof Error ? error.message : String(error));
      },
    );
  };
  return (
    <SheetDialog title={paper.title} size="wide" isOpen onClose={onClose}>
      <p className="sheet-buttons">
        <Button look="main" onPress={openToPrint}>
          Open to print
        </Button>
        <Button onPress={onDownload}>Download PDF</Button>
      </p>
      {fault === null ? null : (
        <p role="alert" className="sheet-fault">
          {fault}
        </p>
      )}
      {pages === null && fault === null ? <p aria-live="polite">The pages are being set …</p> : null}
      <div className="sheet-pages">
        {pages?.map((url, i) => (
          <img
            key={url}
            src={url}
            alt={`${paper.title}, page ${i + 1} of ${pages.length}. Download the PDF to read its text.`}
          />
        ))}
      </div>
    </SheetDialog>
  );
}
