import { useState, type KeyboardEvent } from 'react';
import { Input, Label, Text, TextField } from 'react-aria-components';
import { stepped, type QuantityKind } from './kinds';

interface Props {
  readonly label: string;
  /** Null where the scene leaves the figure out; `optional` says what that means. */
  readonly value: number | null;
  readonly kind: QuantityKind;
  /** @returns one sentence why the value is refused, or null */
  readonly onCommit: (value: number) => string | null;
  readonly hint?: string;
  /** For a figure that may be left out: the word that stands in its place, and how an emptied field takes it out. */
  readonly optional?: { readonly word: string; readonly onClear: () => string | null };
  readonly isDisabled?: boolean;
}

/** Exact entry of one figure: any unit, simple sums, arrow keys. What is refused stays visible; the last good value holds. */
export function QuantityField({ label, value, kind, onCommit, hint, optional, isDisabled = false }: Props) {
  const [typed, setTyped] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const absentWord = optional?.word ?? 'not given';
  const printed = value === null ? absentWord : kind.print(value);
  const shown = typed ?? printed;
  const unit = value === null || kind.unit === '' ? '' : kind.unit === '°' ? '°' : ` ${kind.unit}`;
  const still = `Still using ${printed}${unit}.`;

  function accept(next: number | null): void {
    const refusal = next === null ? (optional?.onClear() ?? null) : onCommit(next);
    setFault(refusal);
    if (refusal === null) setTyped(null);
  }
  function leave(): void {
    if (typed === null || typed === printed) {
      setTyped(null);
      setFault(null);
      return;
    }
    if (optional && ['', optional.word].includes(typed.trim())) {
      accept(null);
      return;
    }
    const parsed = kind.parse(typed);
    if (parsed.ok) accept(parsed.value);
    else setFault(parsed.fault);
  }
  function onKeyDown(event: KeyboardEvent): void {
    if (event.key === 'Enter') leave();
    else if (event.key === 'Escape') {
      setTyped(null);
      setFault(null);
    } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      event.preventDefault();
      if (value === null) return; // there is no figure to step from
      setTyped(null);
      accept(stepped(value, kind, event.key === 'ArrowUp' ? 1 : -1, event));
    }
  }
  return (
    <TextField
      className="field"
      value={shown}
      onChange={setTyped}
      onBlur={leave}
      onKeyDown={onKeyDown}
      isInvalid={fault !== null}
      isDisabled={isDisabled}
    >
      <Label>{label}</Label>
      <span className="well">
        <Input inputMode="text" autoComplete="off" spellCheck={false} />
        {kind.unit !== '' && !(value === null && typed === null) && <span aria-hidden="true">{kind.unit}</span>}
      </span>
      {fault !== null ? (
        <Text slot="errorMessage" elementType="p" className="hint bad">
          {fault} {still}
        </Text>
      ) : (
        hint !== undefined && (
          <Text slot="description" elementType="p" className="hint">
            {hint}
          </Text>
        )
      )}
    </TextField>
  );
}
