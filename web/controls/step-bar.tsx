/** The bar above the controls: what was just noted, to be taken back, or the strip test. A strip to be looked at comes first. */
import type { Act } from '../../server/core/record/command.ts';
import type { JustNoted } from '../pages/bowl.tsx';
import type { Noted } from '../noted.ts';
import type { View } from '../../server/core/show/view.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { isTestDue, lookedAt } from '../strip-step.ts';
import { isStripStep, stripStage } from '../strip-test.ts';
import type { StripTest } from '../strip-test.ts';
import type { Moment } from '../words/sentence.ts';
import { TAKEN_BACK } from '../words/taken-back.ts';
import { Button } from './button.tsx';
import { StripTestBar } from './strip-test.tsx';

export interface StepBarProps {
  readonly view: View;
  readonly moment: Moment;
  readonly profile: Profile;
  /** The strip that lies there; null: none. */
  readonly test: StripTest | null;
  readonly noted: JustNoted | null;
  readonly isDisabled: boolean;
  readonly onLookNow: () => void;
  readonly onAct: (act: Act) => void;
  /** Strikes what was noted. */
  readonly onStrike: (noted: Pick<Noted, 'id' | 'atMs'>) => void;
}

export function StepBar(props: StepBarProps) {
  const { view, moment, profile, test, noted, isDisabled } = props;
  const { atMs, estimate } = moment;
  const isToLook = test !== null && stripStage(test, atMs) === 'look';
  // That a strip was laid, or is still tacky, the countdown says.
  if (noted !== null && !isToLook && !isStripStep(noted.act)) {
    return <NotedBar text={noted.text} isDisabled={isDisabled} onUndo={noted.undo} />;
  }
  if (test === null && !isTestDue(view, atMs, profile, estimate?.tempC)) return null;
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
    <section class="step-bar" aria-label={TAKEN_BACK.just}>
      <p role="status">{text}</p>
      <Button onPress={onUndo} disabled={isDisabled}>
        {TAKEN_BACK.undo}
      </Button>
    </section>
  );
}
