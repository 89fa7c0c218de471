/** The one kind of button: large, a word and a sign, pressed by a tap or a key and nothing else. */
import type { ComponentChildren } from 'preact';
import { SignIcon } from './icons.tsx';
import type { Sign } from './icons.tsx';

export interface ButtonProps {
  readonly children: ComponentChildren;
  readonly onPress: () => void;
  readonly sign?: Sign;
  /** solid: the likeliest. ginger: makes sound. plain: all others. */
  readonly look?: 'plain' | 'solid' | 'ginger';
  readonly signAt?: 'start' | 'end';
  readonly disabled?: boolean;
  readonly class?: string;
  readonly pressed?: boolean;
  /** Whether what it unfolds stands there; its words stay the same. */
  readonly expanded?: boolean;
  /** What it is called where its words alone don't say. */
  readonly label?: string;
}

export function Button(props: ButtonProps) {
  const { children, onPress, sign, look = 'plain', signAt = 'start', disabled = false } = props;
  return (
    <button
      type="button"
      class={`button button-${look} ${props.class ?? ''}`}
      disabled={disabled}
      aria-pressed={props.pressed}
      aria-expanded={props.expanded}
      aria-label={props.label}
      onClick={onPress}
    >
      {sign !== undefined && signAt === 'start' && <SignIcon sign={sign} />}
      <span class="button-word">{children}</span>
      {sign !== undefined && signAt === 'end' && <SignIcon sign={sign} />}
    </button>
  );
}
