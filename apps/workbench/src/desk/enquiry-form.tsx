import { useEffect, useId, useRef, useState } from 'react';
import { Button } from '../kit/button.js';
import { LONGEST_ENQUIRY } from './incoming.js';

/** An enquiry as it came in, with its drawing if there is one. */
export function EnquiryForm({
  startText,
  isBusy,
  onStart,
  onCancel,
}: {
  readonly startText: string;
  readonly isBusy: boolean;
  readonly onStart: (text: string, drawing: File | null) => void;
  readonly onCancel: () => void;
}) {
  const id = useId();
  const [text, setText] = useState(startText);
  const [file, setFile] = useState<File | null>(null);
  const box = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    setText(startText);
    box.current?.focus();
  }, [startText]);
  const tooLong = text.length > LONGEST_ENQUIRY;
  return (
    <form
      className="desk-form"
      aria-label="Paste an enquiry"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() !== '' && !tooLong) onStart(text, file);
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onCancel();
        if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) event.currentTarget.requestSubmit();
      }}
    >
      <label htmlFor={`${id}-text`}>The enquiry as it came in</label>
      <textarea
        id={`${id}-text`}
        ref={box}
        className="kit-input"
        rows={7}
        value={text}
        aria-invalid={tooLong}
        aria-describedby={`${id}-hint`}
        onChange={(event) => setText(event.target.value)}
      />
      <p id={`${id}-hint`} className={tooLong ? 'kit-fault' : 'kit-hint'}>
        {tooLong
          ? `The text has ${text.length} letters; up to ${LONGEST_ENQUIRY} are kept. Leave out what does not matter.`
          : 'Material, thickness, tolerance and quantity named in it are put forward as answers; nothing is filled in unseen.'}
      </p>
      <label className="desk-form-file">
        <span>Drawing, if it came along</span>
        <input
          type="file"
          accept=".dxf,.stp,.step,.stl"
          onChange={(event) => setFile(event.target.files?.[0] ?? null)}
        />
      </label>
      <p className="shell-actions">
        <Button look="main" type="submit" isDisabled={isBusy || text.trim() === '' || tooLong}>
          Start the enquiry
        </Button>
        <Button look="plain" onPress={onCancel}>
          Cancel
        </Button>
      </p>
    </form>
  );
}
