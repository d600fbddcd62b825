/** Scrolls the panel, and nothing around it, until the card stands right under what stays at the panel's top. */
export function showUnderVerdict(card: HTMLElement | null): void {
  const panel = card?.closest('.panel');
  const verdict = panel?.querySelector('.verdict-top');
  if (!card || !panel || !verdict) return;
  const pullPx = panel.querySelector('.pull')?.getBoundingClientRect().height ?? 0;
  const isHeld = getComputedStyle(verdict).position === 'sticky';
  const under = isHeld ? verdict.getBoundingClientRect().bottom : panel.getBoundingClientRect().top + pullPx;
  panel.scrollBy({ top: card.getBoundingClientRect().top - under });
}
