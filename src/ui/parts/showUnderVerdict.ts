/** Scrolls the panel, and nothing around it, until the card stands right under the verdict. */
export function showUnderVerdict(card: HTMLElement | null): void {
  const panel = card?.closest('.panel');
  const verdict = panel?.querySelector('.verdict-top');
  if (!card || !panel || !verdict) return;
  panel.scrollBy({ top: card.getBoundingClientRect().top - verdict.getBoundingClientRect().bottom });
}
