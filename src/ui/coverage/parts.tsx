/** What the parts of the Coverage page share. */
import type { ReactNode } from 'react';
import { Button } from 'react-aria-components';
import type { SceneDocument } from '../../scene/schema';
import type { CoverageTask, Job } from './useJob';

export interface Chosen {
  readonly scene: SceneDocument;
  readonly setupId: string;
  readonly sourceId: string;
  readonly surfaceId: string;
  readonly targetLx: number;
}

export function keepFile(text: string, fileName: string, type: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Range of an area as words: stops to one decimal, or why there are none. */
export const rangeWords = (stops: number | null, reason: string | null): string =>
  stops === null ? (reason ?? 'none') : `${stops.toFixed(1)} stops`;

/** One part of the page: its title, its buttons beside it, and what it shows. */
export function CoverPart({
  id,
  title,
  buttons,
  className = 'cover-part',
  children,
}: {
  readonly id: string;
  readonly title: string;
  readonly buttons?: ReactNode;
  readonly className?: string;
  readonly children: ReactNode;
}) {
  return (
    <section className={className} aria-labelledby={`${id}-title`}>
      <header>
        <h3 id={`${id}-title`}>{title}</h3>
        {buttons !== undefined && <div className="buttons">{buttons}</div>}
      </header>
      {children}
    </section>
  );
}

/** Progress with Stop, a fault, or that the answer is out of date. */
export function JobState<T extends CoverageTask>({
  job,
  scene,
  what,
}: {
  job: Job<T>;
  scene: SceneDocument;
  what: string;
}) {
  let words: ReactNode = '';
  if (job.fraction !== null) {
    words = (
      <>
        {what}, {Math.round(job.fraction * 100)} %{' '}
        <Button className="button flat" onPress={job.stop}>
          Stop
        </Button>
      </>
    );
  } else if (job.fault !== null) words = <span className="fault-words">Not computed: {job.fault}.</span>;
  else if (job.answer !== null && job.answer.document !== scene) words = 'Out of date: the scene has changed.';
  return (
    <p className="job-state" role="status">
      {words}
    </p>
  );
}
