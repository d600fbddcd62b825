import type { ReactNode } from 'react';
import { Switch } from 'react-aria-components';

interface Props {
  readonly isOn: boolean;
  readonly onChange: (isOn: boolean) => void;
  readonly children: ReactNode;
}

export function SwitchField({ isOn, onChange, children }: Props) {
  return (
    <Switch className="switch wide" isSelected={isOn} onChange={onChange}>
      <span className="box" />
      <span>{children}</span>
    </Switch>
  );
}
