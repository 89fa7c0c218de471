/** The strip test's own bar above the controls: offers it, counts down to the look, and asks how it set. */
import { SETS_IN_MS, stripStage } from '../strip-test.ts';
import type { StripLook, StripTest } from '../strip-test.ts';
import { LOOK_NAME, STRIP_TEST, waitingWords } from '../words/strip-steps.ts';
import { Button } from './button.tsx';

export interface StripTestBarProps {
  /** The strip that lies there; null: it is offered to lay one. */
  readonly test: StripTest | null;
  readonly atMs: number;
  readonly isDisabled: boolean;
  readonly onLay: () => void;
  /** Brings the look forward. */
  readonly onLookNow: () => void;
  readonly onLook: (look: StripLook) => void;
  readonly onGiveUp: () => void;
}

export function StripTestBar(props: StripTestBarProps) {
  const { test, atMs, isDisabled } = props;
  if (test === null) {
    return (
      <section class="step-bar" aria-label={STRIP_TEST.name}>
        <p>{STRIP_TEST.words}</p>
        <Button onPress={props.onLay} look="solid" disabled={isDisabled}>
          {STRIP_TEST.testNow}
        </Button>
      </section>
    );
  }
  const stage = stripStage(test, atMs);
  if (stage === 'look') return <HowItSet isDisabled={isDisabled} onLook={props.onLook} />;
  return (
    <section class="step-bar step-waiting" aria-label={STRIP_TEST.name}>
      <p role="timer">{waitingWords(test, atMs)}</p>
      {stage === 'may-look' ? (
        <Button onPress={props.onLookNow}>{STRIP_TEST.lookNow}</Button>
      ) : (
        <Button onPress={props.onGiveUp}>{STRIP_TEST.giveUp}</Button>
      )}
      <progress
        max={SETS_IN_MS}
        value={Math.max(0, SETS_IN_MS - Math.max(0, test.lookAtMs - atMs))}
        aria-hidden="true"
      />
    </section>
  );
}

function HowItSet(props: { readonly isDisabled: boolean; readonly onLook: (look: StripLook) => void }) {
  return (
    <section class="step-bar step-asking" aria-label={STRIP_TEST.name}>
      <p role="status">{STRIP_TEST.howSet}</p>
      {(Object.keys(LOOK_NAME) as StripLook[]).map((look) => (
        <Button key={look} onPress={() => props.onLook(look)} disabled={props.isDisabled}>
          {LOOK_NAME[look]}
        </Button>
      ))}
    </section>
  );
}
