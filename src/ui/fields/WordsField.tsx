import { useState } from 'react';
import { Input, Label, TextField } from 'react-aria-components';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly onCommit: (value: string) => void;
}

/** A name or a note: taken over when the field is left or Enter is pressed. */
export function WordsField({ label, value, onCommit }: Props) {
  const [typed, setTyped] = useState<string | null>(null);
  const leave = (): void => {
    if (typed !== null && typed.trim() !== value) onCommit(typed.trim());
    setTyped(null);
  };
  return (
    <TextField
      className="field wide"
      value={typed ?? value}
      onChange={setTyped}
      onBlur={leave}
      onKeyDown={(event) => {
        if (event.key === 'Enter') leave();
        if (event.key === 'Escape') setTyped(null);
      }}
    >
      <Label>{label}</Label>
      <span className="well">
        <Input className="words" autoComplete="off" />
      </span>
    </TextField>
  );
}
