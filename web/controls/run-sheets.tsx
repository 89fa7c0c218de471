/** The sheets over a run: noting something, how the temper stands and why, and what is seldom needed. */
import type { Act } from '../../server/core/record/command.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { isLiveNumber } from '../moment.ts';
import type { NoteChange } from '../noted.ts';
import type { BowlProps } from '../pages/bowl.tsx';
import { clock } from '../words/measure.ts';
import { MoreSheet } from './more-sheet.tsx';
import { NoteSheet } from './note-sheet.tsx';
import { StandingSheet } from './standing-sheet.tsx';

export type OpenSheet = 'none' | 'note' | 'more' | 'standing';
/** What the road was tapped at, to note something of then. */
export type NoteAt = Pick<NoteChange, 'atMs' | 'untilMs'>;

export interface RunSheetsProps extends BowlProps {
  readonly info: RunInfo;
  readonly sheet: OpenSheet;
  /** null: of now. */
  readonly noteAt: NoteAt | null;
  readonly onClose: () => void;
  /** Whoever asks for the end is asked once more, on the page. */
  readonly onEnding: () => void;
  /** Opens the buttons along the road. */
  readonly onLook: () => void;
}

export function RunSheets(props: RunSheetsProps) {
  const { state, moment, info, asks, sheet, onClose: close } = props;
  const { view, now } = state;
  const isOver = view.ended !== null;
  const isLost = state.connection === 'lost';
  const phase = info.profile.phases.find(({ id }) => id === view.phase);
  const noteAndClose = (act: Act): void => {
    asks.act(act);
    close();
  };
  const noteWords = async (note: NoteChange): Promise<string | null> => {
    const trouble = await asks.note(note);
    if (trouble === null) close();
    return trouble;
  };
  const lookAlong = (): void => {
    props.onLook();
    close();
  };
  const askEnd = (): void => {
    props.onEnding();
    close();
  };
  switch (sheet) {
    case 'none':
      return null;
    case 'note':
      return (
        <NoteSheet
          heading={phase?.heading ?? 'up'}
          at={props.noteAt}
          within={{ earliestMs: info.startedAtMs, latestMs: Math.round(moment.atMs) }}
          isGoing
          onClose={close}
          onAct={noteAndClose}
          onNote={noteWords}
          marks={view.marks}
          clockOf={(atMs) => clock(info.startedAtWall, info.startedAtMs, atMs)}
          onChange={asks.change}
        />
      );
    case 'standing':
      return (
        <StandingSheet
          view={view}
          isKnown={isLiveNumber(state)}
          moment={moment}
          profile={info.profile}
          onAct={isOver || isLost ? undefined : noteAndClose}
          onClose={close}
        />
      );
    case 'more':
      return (
        <MoreSheet
          info={info}
          profile={info.profile}
          phase={view.phase}
          now={now}
          isSoundOn={props.isSoundOn}
          isLost={isLost}
          onBack={asks.back}
          onLook={lookAlong}
          onSound={asks.turnSound}
          onEnd={isOver ? null : askEnd}
          onClose={close}
        />
      );
  }
}
