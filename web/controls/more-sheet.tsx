/** More: what is seldom needed during a run. Back a phase, any phase, the list of runs, sound, and what the thermometer says. */
import type { NowMessage, RunInfo } from '../../server/core/show/wire.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { RejectReason } from '../../server/core/record/event.ts';
import { laterPart } from '../part.tsx';
import { changeViewer } from '../viewer.ts';
import { uncheckedWords } from '../words/before.ts';
import { checkedWords, partsWords } from '../words/belief.ts';
import { unitSign } from '../words/manner.ts';
import { bound } from '../words/measure.ts';
import { numberName } from '../words/number-names.ts';
import { phaseName } from '../words/names.ts';
import { REJECT_NAME } from '../words/log-names.ts';
import { BOUNDS_ARE_OURS, CAUTIONS } from '../words/cautions.ts';
import { linkWords } from '../words/idle.ts';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { MORE_SIGN } from './more-signs.ts';
import { CheckLink } from './check-link.tsx';
import { KeysPart } from './keys-part.tsx';
import { ScreenPart } from './screen-part.tsx';
import { SpeakButton } from './read-out.tsx';
import { Sheet } from './sheet.tsx';
import { BUTTONS } from '../words/buttons.ts';
import { MORE } from '../words/more.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';
import { HEADINGS } from '../words/headings.ts';

const BestPart = laterPart(() => import('./best-part.tsx').then((part) => part.BestPart));

export interface MoreSheetProps {
  readonly info: RunInfo;
  readonly profile: Profile | null;
  readonly phase: string | null;
  readonly now: NowMessage | null;
  readonly isSoundOn: boolean;
  readonly isLost: boolean;
  readonly onBack: () => void;
  readonly onSound: () => void;
  readonly onEnd: (() => void) | null;
  /** Opens the buttons along the road. */
  readonly onLook: () => void;
  readonly onClose: () => void;
}

export function MoreSheet(props: MoreSheetProps) {
  const { profile, phase, isLost, isSoundOn } = props;
  const isFirst = profile === null || profile.phases[0]?.id === phase;
  return (
    <Sheet title={BUTTONS.more} onClose={props.onClose}>
      <div class="sheet-buttons">
        {phase !== null && (
          <Button onPress={props.onBack} sign={MORE_SIGN.back} disabled={isLost || isFirst}>
            {ELSEWHERE.backPhase}
          </Button>
        )}
        <Button onPress={props.onSound} sign={isSoundOn ? SIGN.soundOn : SIGN.soundOff}>
          {isSoundOn ? BUTTONS.soundOn : BUTTONS.soundOff}
        </Button>
        <SpeakButton />
        <Button onPress={props.onLook} sign={MORE_SIGN.runs}>
          {BUTTONS.lookAlong}
        </Button>
        <a class="button button-plain" href="#/runs" onClick={props.onClose}>
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
        <a class="button button-plain" href="#/thermometer" onClick={props.onClose}>
          <span class="button-word">{ELSEWHERE.thermometer}</span>
        </a>
        <a class="button button-plain" href="#/screens" onClick={props.onClose}>
          <span class="button-word">{ELSEWHERE.screens}</span>
        </a>
        <a class="button button-plain" href="#/bench" onClick={props.onClose}>
          <span class="button-word">{ELSEWHERE.bench}</span>
        </a>
        {props.onEnd !== null && (
          <Button onPress={props.onEnd} sign={SIGN.end} disabled={isLost}>
            {ELSEWHERE.endRun}
          </Button>
        )}
      </div>
      <ScreenPart
        onFar={() => {
          changeViewer({ isFar: true });
          props.onClose();
        }}
      />
      <section class="sheet-part">
        <h3>{HEADINGS.bestRuns}</h3>
        <BestPart info={props.info} />
      </section>
      {profile !== null && <ProfileTable profile={profile} phase={phase} />}
      {profile !== null && <NumberSources profile={profile} />}
      <KeysPart />
      <ThermometerWords now={props.now} onGo={props.onClose} />
      <section class="sheet-part">
        <h3>{HEADINGS.cautions}</h3>
        <ul>
          {CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </section>
    </Sheet>
  );
}

/** Every number on the page has a source, and where it is ours the page says so. */
function NumberSources({ profile }: { readonly profile: Profile }) {
  return (
    <section class="sheet-part">
      <h3>{HEADINGS.sources}</h3>
      <p>{profile.source}</p>
      <ul>
        {Object.entries(profile.sources ?? {}).map(([path, source]) => (
          <li key={path}>{`${numberName(path)}: ${source}`}</li>
        ))}
        <li>{BOUNDS_ARE_OURS}</li>
      </ul>
    </section>
  );
}

function ProfileTable({ profile, phase }: { readonly profile: Profile; readonly phase: string | null }) {
  return (
    <section class="sheet-part">
      <h3>{profile.title}</h3>
      <div class="table-frame" tabIndex={0} role="region" aria-label={profile.title}>
        <table>
          <thead>
            <tr>
              <th scope="col">{HEADINGS.phase}</th>
              <th scope="col">{`${HEADINGS.band}, ${unitSign()}`}</th>
              <th scope="col">{HEADINGS.ceiling}</th>
              <th scope="col">{HEADINGS.floor}</th>
              <th scope="col">{HEADINGS.lost}</th>
              <th scope="col">{HEADINGS.hold}</th>
            </tr>
          </thead>
          <tbody>
            {profile.phases.map((each) => (
              <tr key={each.id} aria-current={each.id === phase ? 'step' : undefined}>
                <th scope="row">{phaseName(each.id)}</th>
                <td>{MORE.between(bound(each.bandC[0]), bound(each.bandC[1]))}</td>
                <td>{each.ceilingC === undefined ? '' : bound(each.ceilingC)}</td>
                <td>{each.floorC === undefined ? '' : bound(each.floorC)}</td>
                <td>{each.lostAboveC === undefined ? '' : bound(each.lostAboveC)}</td>
                <td>{each.holdS === undefined ? '' : MORE.minutes(Math.round(each.holdS / 6) / 10)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** How far off the number may be, bias apart from noise; or that nobody knows. */
function BeliefWords({ now, onGo }: ThermometerWordsProps) {
  const check = now?.check;
  const words =
    check === undefined ? uncheckedWords() : `${checkedWords(check, now?.reading?.valueC)} ${partsWords(check)}`;
  return (
    <>
      <p>{words}</p>
      <CheckLink check={check ?? null} onGo={onGo} />
    </>
  );
}

interface ThermometerWordsProps {
  readonly now: NowMessage | null;
  readonly onGo: () => void;
}

function ThermometerWords({ now, onGo }: ThermometerWordsProps) {
  const rejected = Object.entries(now?.rejected ?? {}).filter(([, count]) => count > 0);
  return (
    <section class="sheet-part">
      <h3>{HEADINGS.thermometer}</h3>
      <p>{linkWords(now?.link ?? null)}</p>
      {now?.link.state !== 'simulated' && <BeliefWords now={now} onGo={onGo} />}
      {now !== null && now.lastLine !== null && (
        <p>
          {MORE.says} <code>{now.lastLine}</code>
        </p>
      )}
      <p>
        <a href="#/heard">{MORE.heard}</a>
      </p>
      {rejected.length > 0 && (
        <p>
          {MORE.notUsed(
            rejected.map(([reason, count]) => `${count} ${REJECT_NAME[reason as RejectReason] ?? reason}`).join(', '),
          )}
        </p>
      )}
    </section>
  );
}
