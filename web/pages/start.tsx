/** The start, in two taps: which chocolate, and how it stands. The live number, the link and the usual cautions stand by. */
import { useEffect, useState } from 'preact/hooks';
import type { Condition } from '../../server/core/record/command.ts';
import type { CheckInfo, NowMessage } from '../../server/core/show/wire.ts';
import { firstCeilingC, lowestLostC } from '../../server/core/show/profile-limits.ts';
import type { LiveState } from '../live.ts';
import { fetchProfiles } from '../fetched.ts';
import type { ProfileCard } from '../fetched.ts';
import { Before } from '../controls/before.tsx';
import { PortChoices } from '../controls/port-choices.tsx';
import { BigNumber } from '../controls/number.tsx';
import { Button } from '../controls/button.tsx';
import { MORE_SIGN } from '../controls/more-signs.ts';
import { Headline, Spoken } from '../controls/headline.tsx';
import { SoundBar } from '../controls/sound-bar.tsx';
import { SimulatedRibbon, TroubleStrip } from '../controls/strips.tsx';
import { saidTempC } from '../said-temperature.ts';
import { carefulOf, isLiveNumber, lastTrueOf } from '../moment.ts';
import { bandsInOrder } from '../words/bands.ts';
import { CONDITION_NAME } from '../words/start.ts';
import { linkSentence } from '../words/link.ts';
import type { Moment, Sentence } from '../words/sentence.ts';
import {
  carefulChosenSentence,
  carefulSentence,
  linkWords,
  noSeedHint,
  noSeedSentence,
  REFUSAL,
  waitingSentence,
} from '../words/idle.ts';
import { CAUTIONS } from '../words/cautions.ts';
import { lostSentence } from '../words/states.ts';
import type { BowlProps } from './bowl.tsx';
import { MORE } from '../words/more.ts';
import { START } from '../words/start.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';

export function StartPage(props: BowlProps) {
  const { state, moment, asks } = props;
  const [chosen, setChosen] = useState<ProfileCard | null>(null);
  /** Somebody said of this profile that it is in temper. */
  const [tempered, setTempered] = useState<ProfileCard | null>(null);
  const isLost = state.connection === 'lost';
  const waitingFor = state.now?.waitingFor ?? null;
  const linkAsks = state.now === null ? null : linkSentence(state.now);
  /** Without a thermometer nothing begins: what it asks for comes before which chocolate it is. */
  const isLinkAsking = linkAsks !== null && chosen === null && carefulOf(state) === null;
  const isWaitedFor = chosen === null && waitingFor !== null;
  const noSeed = chosen === null ? null : noSeedAt(chosen, state, moment);
  const asked = ((): Sentence => {
    const careful = stillCareful(chosen, state, moment);
    if (careful !== null) return (chosen === null ? carefulSentence : carefulChosenSentence)(careful, moment);
    if (noSeed !== null && chosen === tempered) return noSeedSentence(noSeed.tempC, noSeed.lostC);
    if (isWaitedFor) return waitingSentence(waitingFor);
    return isLinkAsking ? { ...questionFor(null), ...linkAsks } : questionFor(chosen);
  })();
  const said = isLost ? lostSentence(lastTrueOf(state.lastTrue)) : asked;
  return (
    <main class="start">
      {props.others}
      {state.simulated && <SimulatedRibbon />}
      {props.trouble !== null && <TroubleStrip why={props.trouble} onRead={props.onTroubleRead} />}
      <Headline said={said} />
      <Spoken said={said} />
      <SoundBar bellTrouble={state.now?.bellTrouble} />
      <div class="start-body">
        {chosen === null ? (
          <ProfileChoice isTitled={isLinkAsking} onChoose={setChosen} />
        ) : (
          <ConditionChoice
            profile={chosen}
            isDisabled={isLost}
            noSeedOverC={noSeed?.lostC ?? null}
            onChoose={(condition) => {
              setTempered(condition === 'tempered' ? chosen : null);
              if (condition === 'tempered' && noSeed !== null) return;
              asks.choose(chosen.id, condition);
              setChosen(null);
            }}
            onBack={() => setChosen(null)}
          />
        )}
        <section class="start-side">
          <BigNumber valueC={state.now?.reading?.valueC ?? null} isLive={isLiveNumber(state)} />
          {!isLinkAsking && (
            <p class="start-link">{state.refused === null ? standsLinked(state.now) : REFUSAL[state.refused]}</p>
          )}
          {isUnread(state.now) && (
            <p>
              <a class="button button-low" href="#/heard">
                <span class="button-word">{MORE.heard}</span>
              </a>
            </p>
          )}
          <PortChoices bowl={state.bowl ?? ''} isAsked={state.now !== null && state.now.link.state !== 'up'} />
          <Before roomC={state.now?.roomC ?? null} check={checkOf(state)} />
          <ul class="cautions">
            {CAUTIONS.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </section>
      </div>
      <footer class="controls">
        <a class="button button-plain" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
        <a class="button button-plain" href="#/profiles">
          <span class="button-word">{ELSEWHERE.profiles}</span>
        </a>
        <a class="button button-plain" href="#/thermometer">
          <span class="button-word">{ELSEWHERE.thermometer}</span>
        </a>
        <a class="button button-plain" href="#/bench">
          <span class="button-word">{ELSEWHERE.bench}</span>
        </a>
        <a class="button button-plain" href="#/screens">
          <span class="button-word">{ELSEWHERE.screens}</span>
        </a>
      </footer>
    </main>
  );
}

/** The ceiling that it is over: of all that it could be, or of the one just chosen. */
function stillCareful(chosen: ProfileCard | null, state: LiveState, moment: Moment): NowMessage['careful'] {
  const careful = carefulOf(state);
  if (careful === null || chosen === null) return careful;
  const limitC = firstCeilingC(chosen);
  const tempC = moment.estimate?.tempC ?? null;
  return limitC === null || tempC === null || tempC < limitC ? null : { limitC, coating: chosen.coating };
}

/** Where it is so warm that none of this chocolate can be in temper; null: it may be. */
function noSeedAt(chosen: ProfileCard, state: LiveState, moment: Moment) {
  const lostC = lowestLostC(chosen);
  const tempC = isLiveNumber(state) ? (moment.estimate?.tempC ?? null) : null;
  return lostC === null || tempC === null || tempC < lostC ? null : { tempC: saidTempC(moment) ?? tempC, lostC };
}

/** What is known of the thermometer; undefined: there is none in this bowl that could be checked. */
function checkOf({ simulated, now }: LiveState): CheckInfo | null | undefined {
  return simulated || now?.link.state !== 'up' ? undefined : (now.check ?? null);
}

/** Something is said, and nothing of it is used. */
function isUnread(now: NowMessage | null): boolean {
  return now !== null && now.lastLine !== null && (now.reading === null || now.stale);
}

/** What the link asks for, or that it is well. */
function standsLinked(now: NowMessage | null): string {
  const asks = now === null ? null : linkSentence(now);
  return asks === null ? linkWords(now?.link ?? null) : `${asks.act} ${asks.detail}`;
}

function questionFor(chosen: ProfileCard | null): Sentence {
  const calm = { later: [], area: 'words', arm: null, leftS: null } as const;
  if (chosen === null) return { ...calm, act: START.which, detail: START.bag };
  return { ...calm, act: START.stands, detail: chosen.title };
}

interface ProfileChoiceProps {
  /** The question stands here, as the top of the page says something else. */
  readonly isTitled: boolean;
  readonly onChoose: (profile: ProfileCard) => void;
}

function ProfileChoice({ isTitled, onChoose }: ProfileChoiceProps) {
  const [profiles, setProfiles] = useState<readonly ProfileCard[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const load = async (): Promise<void> => {
    const answer = await fetchProfiles();
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) setProfiles(answer.value);
  };
  useEffect(() => void load(), []);
  if (trouble !== null) {
    return (
      <section class="choice">
        <p>{trouble}</p>
        <Button onPress={() => void load()}>{START.tryAgain}</Button>
      </section>
    );
  }
  return (
    <section class="choice" aria-label={START.chocolate}>
      {isTitled && <h2>{START.which}</h2>}
      {profiles.map((profile) => (
        <button type="button" class="choice-button" key={profile.id} onClick={() => onChoose(profile)}>
          <b>{profile.title}</b>
          <span>{bandsInOrder(profile.phases, START.between)}</span>
        </button>
      ))}
      <a class="button button-plain" href="#/bag">
        <span class="button-word">{ELSEWHERE.bag}</span>
      </a>
    </section>
  );
}

function ConditionChoice(props: {
  readonly profile: ProfileCard;
  readonly isDisabled: boolean;
  /** It is over this, °C, where no seed is left; null: it is not. */
  readonly noSeedOverC: number | null;
  readonly onChoose: (condition: Condition) => void;
  readonly onBack: () => void;
}) {
  return (
    <section class="choice" aria-label={START.condition}>
      {(Object.keys(CONDITION_NAME) as Condition[]).map((condition) => (
        <button
          type="button"
          class="choice-button"
          key={condition}
          disabled={props.isDisabled}
          onClick={() => props.onChoose(condition)}
        >
          <b>{CONDITION_NAME[condition].name}</b>
          <span>
            {condition === 'tempered' && props.noSeedOverC !== null
              ? noSeedHint(props.noSeedOverC)
              : CONDITION_NAME[condition].detail}
          </span>
        </button>
      ))}
      <Button onPress={props.onBack} sign={MORE_SIGN.back}>
        {START.another}
      </Button>
    </section>
  );
}
