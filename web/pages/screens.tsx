/** Who else may look on or take part: codes to let another screen in, and those that are, each to be shut out again. */
import { useEffect, useState } from 'preact/hooks';
import { Button } from '../controls/button.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { TwoSteps } from '../controls/two-steps.tsx';
import {
  fetchScreens,
  inviteScreen,
  type OtherScreen,
  type OtherScreens,
  type ScreenCode,
  shutOut,
  withdrawCode,
} from '../other-screens.ts';
import type { Answer } from '../post.ts';
import { clock } from '../words/measure.ts';
import { SCREENS } from '../words/other-screens.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';
import { day } from '../words/day.ts';

/** A screen that comes is seen here after so long at most, ms (ours). */
const LOOK_EVERY_MS = 3_000;

/** What lets others in, as it is typed at the start. */
const LISTEN_OPTION = '--listen 0.0.0.0:4330';

export function ScreensPage() {
  const [screens, setScreens] = useState<OtherScreens | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const take = (answer: Answer<OtherScreens>): void => {
    if (answer.ok) setScreens(answer.value);
    setTrouble(answer.ok ? null : answer.why);
  };
  const look = async (): Promise<void> => take(await fetchScreens());
  const doing = async (work: Promise<Answer<unknown>>): Promise<void> => {
    const answer = await work;
    await look();
    if (!answer.ok) setTrouble(answer.why);
  };
  useEffect(() => {
    void look();
    const timer = window.setInterval(() => void look(), LOOK_EVERY_MS);
    return () => window.clearInterval(timer);
  }, []);
  const invite = (role: 'watch' | 'control') => () => void doing(inviteScreen(role));
  return (
    <PlainPage
      act={SCREENS.title}
      detail={trouble ?? saidOf(screens)}
      isComing={screens === null && trouble === null}
      controls={
        screens?.onNetwork === true ? (
          <>
            <Button onPress={invite('control')} look="solid">
              {SCREENS.control}
            </Button>
            <Button onPress={invite('watch')}>{SCREENS.watch}</Button>
          </>
        ) : (
          <Link to="#/runs" word={ELSEWHERE.runs} />
        )
      }
    >
      {screens?.invitations.toReversed().map((code) => (
        <CodePart key={code.id} code={code} onWithdraw={() => void doing(withdrawCode(code.id))} />
      ))}
      {screens !== null && screens.guests.length > 0 && (
        <ul class="backup-rows" aria-label={SCREENS.guests}>
          {screens.guests.map((guest) => (
            <GuestRow key={guest.id} guest={guest} onShutOut={() => void doing(shutOut(guest.id))} />
          ))}
        </ul>
      )}
      {screens?.onNetwork === false && (
        <p>
          {SCREENS.toLetIn} <code class="screens-option">{LISTEN_OPTION}</code>
        </p>
      )}
      {screens?.onNetwork === true && <p class="screens-plain">{SCREENS.plain}</p>}
    </PlainPage>
  );
}

function saidOf(screens: OtherScreens | null): string {
  if (screens === null) return SCREENS.fetching;
  if (!screens.onNetwork) return SCREENS.alone;
  return screens.guests.length === 0 ? SCREENS.none : SCREENS.some(screens.guests.length);
}

function CodePart({ code, onWithdraw }: { readonly code: ScreenCode; readonly onWithdraw: () => void }) {
  const [first, ...others] = code.links;
  return (
    <section class="screen-code">
      {first !== undefined && (
        <svg viewBox={`0 0 ${first.size} ${first.size}`} role="img" aria-label={SCREENS.scan(first.link)}>
          <path d={first.path} />
        </svg>
      )}
      <div class="screen-code-words">
        <b class="screen-code-letters">{code.code}</b>
        <p>
          {SCREENS.codeFor[code.role]} {SCREENS.until(timeOf(code.untilWall))}
        </p>
        {first !== undefined && (
          <p>
            {SCREENS.open} <code>{`${first.address}/pair`}</code>
          </p>
        )}
        {others.length > 0 && (
          <p>
            {SCREENS.other} {others.map(({ address }) => address).join(', ')}
          </p>
        )}
        <Button onPress={onWithdraw} class="button-low" label={`${SCREENS.withdraw}: ${code.code}`}>
          {SCREENS.withdraw}
        </Button>
      </div>
    </section>
  );
}

function GuestRow({ guest, onShutOut }: { readonly guest: OtherScreen; readonly onShutOut: () => void }) {
  const name = guest.name === '' ? SCREENS.unnamed : guest.name;
  const { sinceWall, untilWall, lastSeenWall } = guest;
  const seen = lastSeenWall === null ? SCREENS.notSeen : SCREENS.seen(day(lastSeenWall), timeOf(lastSeenWall));
  return (
    <li class="backup-row">
      <div class="backup-words">
        <b>{name}</b>
        <span>
          {SCREENS.may[guest.role]}, {SCREENS.since(day(sinceWall), timeOf(sinceWall))},{' '}
          {SCREENS.holds(day(untilWall), timeOf(untilWall))}
        </span>
        <span>{seen}</span>
      </div>
      <TwoSteps
        word={SCREENS.shutOut}
        label={`${SCREENS.shutOut}: ${name}`}
        ask={SCREENS.askShutOut(name)}
        yes={SCREENS.yes}
        no={SCREENS.no}
        onYes={onShutOut}
      />
    </li>
  );
}

function timeOf(wall: string): string {
  return clock(wall, 0, 0);
}
