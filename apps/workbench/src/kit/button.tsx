import { Button as AriaButton, type ButtonProps } from 'react-aria-components';

export interface KitButtonProps extends Omit<ButtonProps, 'className'> {
  /** `main`: the one thing to do next here. `plain`: text with a rule under it. Default: a quiet outlined button. */
  readonly look?: 'main' | 'quiet' | 'plain';
}

export function Button({ look = 'quiet', ...props }: KitButtonProps) {
  return <AriaButton {...props} className={`kit-button kit-button-${look}`} />;
}
