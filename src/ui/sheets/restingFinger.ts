/** Tells when a finger has rested where it came down. */
const LONG_PRESS_MS = 550;
/** Moves that were made while the page was busy are told with the next frames, behind a timer that was due meanwhile. */
const FRAMES_BEHIND = 2;

export class RestingFinger {
  private timer: ReturnType<typeof setTimeout> | undefined;
  private frame = 0;

  /** A finger came down; `rested` is called unless `end` is before. */
  begin(rested: () => void): void {
    this.end();
    this.timer = setTimeout(() => this.after(FRAMES_BEHIND, rested), LONG_PRESS_MS);
  }

  /** It moved or was lifted. */
  end(): void {
    clearTimeout(this.timer);
    cancelAnimationFrame(this.frame);
  }

  private after(frames: number, rested: () => void): void {
    if (frames === 0) rested();
    else this.frame = requestAnimationFrame(() => this.after(frames - 1, rested));
  }
}
