import { Button, Label, ListBox, ListBoxItem, Popover, Select, SelectValue } from 'react-aria-components';

interface Props<Value extends string> {
  readonly label: string;
  readonly value: Value;
  readonly choices: readonly { readonly value: Value; readonly name: string }[];
  readonly onPick: (value: Value) => void;
  readonly wide?: boolean;
}

/** One choice out of a few. */
export function PickField<Value extends string>({ label, value, choices, onPick, wide = false }: Props<Value>) {
  return (
    <Select
      className={wide ? 'field wide' : 'field'}
      value={value}
      onChange={(key) => {
        if (key !== null && key !== value) onPick(key as Value);
      }}
    >
      <Label className="field-label">{label}</Label>
      <Button className="pick">
        <SelectValue />
      </Button>
      <Popover className="popover">
        <ListBox className="menu" items={choices}>
          {(choice) => (
            <ListBoxItem id={choice.value} textValue={choice.name} className="option">
              {choice.name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}
