import { useEffect, useState } from 'react';
import { Button } from 'react-aria-components';
import { useApp, useSession } from '../app';
import { Glyph } from '../parts/Glyphs';
import { dismiss, type Notice } from '../stores/session';

const DONE_MS = 6000;
const KIND_WORDS = { done: 'Done', caution: 'Caution', fault: 'Fault' } as const;

function NoticeCard({ notice }: { readonly notice: Notice }) {
  const { session } = useApp();
  const [isHeld, setHeld] = useState(false);
  useEffect(() => {
    if (notice.kind !== 'done' || isHeld) return undefined;
    const timer = setTimeout(() => dismiss(session, notice.id), DONE_MS);
    return () => clearTimeout(timer);
  }, [session, notice, isHeld]);
  return (
    <div
      className="notice"
      data-kind={notice.kind}
      onPointerEnter={() => setHeld(true)}
      onPointerLeave={() => setHeld(false)}
      onFocus={() => setHeld(true)}
      onBlur={() => setHeld(false)}
    >
      <Glyph name={notice.kind} />
      <div>
        <span className="hidden-word">{KIND_WORDS[notice.kind]}: </span>
        {notice.lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
      {notice.action && (
        <Button
          className="button"
          onPress={() => {
            notice.action?.run();
            dismiss(session, notice.id);
          }}
        >
          {notice.action.label}
        </Button>
      )}
      <Button className="button square" aria-label="Close notice" onPress={() => dismiss(session, notice.id)}>
        <Glyph name="close" size={16} />
      </Button>
    </div>
  );
}

/** What was done goes by itself; cautions and faults stay. */
export function Notices() {
  const notices = useSession((state) => state.notices);
  const quiet = notices.filter((notice) => notice.kind !== 'fault');
  const faults = notices.filter((notice) => notice.kind === 'fault');
  return (
    <section className="notices" aria-label="Notices">
      <div aria-live="assertive" role="alert">
        {faults.map((notice) => (
          <NoticeCard key={notice.id} notice={notice} />
        ))}
      </div>
      <div aria-live="polite" role="log" aria-label="What was done">
        {quiet.map((notice) => (
          <NoticeCard key={notice.id} notice={notice} />
        ))}
      </div>
    </section>
  );
}
