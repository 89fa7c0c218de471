/** The bar above the controls: what was just noted, to be taken back, or the strip test. A strip to be looked at comes first. */
import type { Act } from '../../server/core/record/command.ts';
import type { JustNoted } from '../pages/bowl.tsx';
import { isStripTest, layStrip, lookedAt, stripStage } from '../strip-test.ts';
import type { StripLook, StripTest } from '../strip-test.ts';
import { NOTES } from '../words/hands.ts';
import { Button } from './button.tsx';
import { StripTestBar } from './strip-test.tsx';

export interface StepBarProps {
  readonly run: string;
  readonly atMs: number;
  /** The strip that lies there; null: none. */
  readonly test: StripTest | null;
  readonly isTestDue: boolean;
  readonly noted: JustNoted | null;
  readonly isDisabled: boolean;
  readonly onTest: (test: StripTest | null) => void;
  readonly onAct: (act: Act) => void;
}

export function StepBar(props: StepBarProps) {
  const { run, atMs, test, noted, isDisabled, onTest } = props;
  const isToLook = test !== null && stripStage(test, atMs) === 'look';
  const layAsDue = (): void => onTest({ ...(test ?? layStrip(run, atMs)), lookAtMs: atMs });
  if (noted !== null && !isToLook) {
    /* What a strip test showed can't be unsaid to the engine: taken back, it is asked again. */
    const undo = (): void => {
      noted.undo();
      if (noted.act !== null && isStripTest(noted.act)) layAsDue();
    };
    return <NotedBar text={noted.text} isDisabled={isDisabled} onUndo={undo} />;
  }
  if (test === null && !props.isTestDue) return null;
  const look = (seen: StripLook): void => {
    const told = lookedAt(test!, seen, atMs);
    onTest(typeof told === 'string' ? null : told);
    if (typeof told === 'string') props.onAct(told);
  };
  return (
    <StripTestBar
      test={test}
      atMs={atMs}
      isDisabled={isDisabled}
      onLay={() => onTest(layStrip(run, atMs))}
      onLookNow={layAsDue}
      onLook={look}
      onGiveUp={() => onTest(null)}
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
