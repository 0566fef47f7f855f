import { Link } from 'react-router';
import { useKept, useNotices } from '../keeping/index.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/mark.js';
import { keepingWords } from './keeping-words.js';
import { jobPath } from './places.js';

/** Where the planner's work is safe, in words; always in the same place at the head. */
export function KeepingLine() {
  const server = useKept((s) => s.server);
  const saving = useKept((s) => s.jobs.filter((j) => j.saved === 'saving').length);
  const waiting = useKept(
    (s) =>
      s.jobs.filter((j) => j.saved === 'kept on this device').length +
      // A book that came with the page has no version and waits for nobody.
      Object.values(s.books).filter((b) => b.saved === 'kept on this device' && b.version !== null).length,
  );
  const conflicts = useKept((s) => s.jobs.filter((j) => j.conflict !== null).length);
  const first = useKept((s) => s.jobs.find((j) => j.conflict !== null)?.jobId ?? null);
  const { text, more, needsYou } = keepingWords({ server, saving, waiting, conflicts });
  return (
    <p className="shell-keeping-words" role="status">
      {needsYou ? <Mark kind="needs">{text}</Mark> : <span className="shell-keeping-text">{text}</span>}
      {first === null ? null : (
        <>
          {' '}
          <Link to={jobPath(first)}>Settle</Link>
        </>
      )}
      {more === null || needsYou ? null : <span className="shell-keeping-more">{more}</span>}
    </p>
  );
}

/** What the planner has to know about keeping now, with what can be done about it. */
export function NoticeStrip() {
  const notices = useNotices();
  if (notices.length === 0) return null;
  return (
    <ul className="shell-notices no-print" aria-label="Notices">
      {notices.map((notice) => (
        <li key={notice.id} role="alert">
          <span>{notice.says}</span>
          {notice.choices.map((choice) => (
            <Button key={choice.label} look="plain" onPress={choice.choose}>
              {choice.label}
            </Button>
          ))}
        </li>
      ))}
    </ul>
  );
}
