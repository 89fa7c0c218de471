/** The bar above the controls: what was just noted, to be taken back, or the strip test. A strip to be looked at comes first. */
import type { Act } from '../../server/core/record/command.ts';
import type { JustNoted } from '../pages/bowl.tsx';
import type { Noted } from '../noted.ts';
import { isStripStep, lookedAt, stripStage } from '../strip-test.ts';
import type { StripTest } from '../strip-test.ts';
import { NOTES } from '../words/hands.ts';
import { Button } from './button.tsx';
import { fetchAtHand, laterPart } from '../part.tsx';

const StripTestBar = laterPart(() => fetchAtHand().then((part) => part.StripTestBar));

export interface StepBarProps {
  readonly atMs: number;
  /** The strip that lies there; null: none. */
  readonly test: StripTest | null;
  readonly isTestDue: boolean;
  readonly noted: JustNoted | null;
  readonly isDisabled: boolean;
  readonly onLookNow: () => void;
  readonly onAct: (act: Act) => void;
  /** Strikes what was noted. */
  readonly onStrike: (noted: Pick<Noted, 'id' | 'atMs'>) => void;
}

export function StepBar(props: StepBarProps) {
  const { atMs, test, noted, isDisabled } = props;
  const isToLook = test !== null && stripStage(test, atMs) === 'look';
  // That a strip was laid, or is still tacky, the countdown says.
  if (noted !== null && !isToLook && !isStripStep(noted.act)) {
    return <NotedBar text={noted.text} isDisabled={isDisabled} onUndo={noted.undo} />;
  }
  if (test === null && !props.isTestDue) return null;
  return (
    <StripTestBar
      test={test}
      atMs={atMs}
      isDisabled={isDisabled}
      onLay={() => props.onAct('strip-laid')}
      onLookNow={props.onLookNow}
      onLook={(seen) => props.onAct(lookedAt(test!, seen))}
      onGiveUp={() => props.onStrike({ id: test!.id, atMs: test!.laidAtMs })}
    />
  );
}

interface NotedBarProps {
  readonly text: string;
  readonly isDisabled: boolean;
  readonly onUndo: () => void;
}

function NotedBar({ text, isDisabled, onUndo }: NotedBarProps) {
  return (
    <section class="step-bar" aria-label={NOTES.just}>
      <p role="status">{text}</p>
      <Button onPress={onUndo} disabled={isDisabled}>
        {NOTES.undo}
      </Button>
    </section>
  );
}
