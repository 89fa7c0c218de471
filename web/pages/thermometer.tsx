/** The thermometer's port: how it stands, another one in its place, and a question for one that speaks only when asked. */
import { useEffect, useState } from 'preact/hooks';
import type { LinkState } from '../../server/core/show/wire.ts';
import { Button } from '../controls/button.tsx';
import { Field } from '../controls/field.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { fetchBench } from '../bench.ts';
import { postPort } from '../fetched.ts';
import type { Answer } from '../post.ts';
import {
  type Ending,
  ENDINGS,
  type EveryPort,
  fetchAllPorts,
  fetchLink,
  type Port,
  postQuestion,
  type Question,
  stopAsking,
  USUAL_QUESTIONS,
} from '../thermometers.ts';
import { useAsked } from '../use-asked.ts';
import { CHECK_LINK } from '../words/belief.ts';
import { linkWords } from '../words/idle.ts';
import { THERMOMETER } from '../words/thermometer.ts';

/** A plug that was just pushed in should be there when one looks up, ms (ours). */
const LOOK_EVERY_MS = 3_000;

export function ThermometerPage({ bowl }: { readonly bowl: string | null }) {
  const link = useAsked(bowl, () => fetchLink(bowl!));
  const ports = useAsked('ports', fetchAllPorts);
  const bench = useAsked('bench', fetchBench);
  const [trouble, setTrouble] = useState<string | null>(null);
  const look = async (): Promise<void> =>
    void (await Promise.all([bowl === null ? null : link.ask(), ports.ask(), bench.ask()]));
  useEffect(() => {
    const timer = window.setInterval(() => void look(), LOOK_EVERY_MS);
    return () => window.clearInterval(timer);
  }, [bowl]);
  const doing = async (work: Promise<Answer<unknown>>): Promise<Answer<unknown>> => {
    const answer = await work;
    // What is wrong with something typed is said beside it.
    setTrouble(answer.ok || answer.at !== undefined ? null : answer.why);
    await look();
    return answer;
  };
  const open = (bench.value?.thermometers ?? []).filter(({ link }) => asksOf(link) !== undefined);
  const isComing = [link, ports, bench].some((asked) => asked.value === null && asked.trouble === null);
  const stands = link.value === null ? THERMOMETER.fetching : linkWords(link.value);
  return (
    <PlainPage
      act={THERMOMETER.title}
      detail={trouble ?? link.trouble ?? bench.trouble ?? stands}
      isComing={isComing}
      controls={<Link to="#/check" word={CHECK_LINK.check} />}
    >
      {ports.value !== null && (
        <Ports
          every={ports.value}
          isRead={open.some(({ link: { state } }) => state === 'up')}
          onUse={(path) => void doing(postPort(path))}
        />
      )}
      {open.map((each) => (
        <Asking
          key={each.thermometer}
          link={each.link}
          isAlone={open.length === 1}
          onAsk={(question) => doing(postQuestion(each.thermometer, question))}
          onStop={() => void doing(stopAsking(each.thermometer))}
        />
      ))}
    </PlainPage>
  );
}

/** What the open port is asked, null: nothing; undefined: none is open. */
function asksOf(link: LinkState): string | null | undefined {
  return link.state === 'up' || link.state === 'looking' ? link.asks : undefined;
}

interface AskingProps {
  readonly link: LinkState;
  /** There is no other one that it could be taken for. */
  readonly isAlone: boolean;
  readonly onAsk: (question: Question) => Promise<Answer<unknown>>;
  readonly onStop: () => void;
}

/** One thermometer: what it is asked, or what it may be. */
function Asking({ link, isAlone, onAsk, onStop }: AskingProps) {
  const asks = asksOf(link) ?? null;
  return (
    <>
      {!isAlone && <p>{linkWords(link)}</p>}
      {asks === null ? (
        <Ask onAsk={onAsk} />
      ) : (
        <section class="ports">
          <h2>{THERMOMETER.isAsked(asks)}</h2>
          <Button onPress={onStop}>{THERMOMETER.stop}</Button>
        </section>
      )}
    </>
  );
}

interface PortsProps {
  readonly every: EveryPort;
  /** One is read, be it none of those on USB. */
  readonly isRead: boolean;
  readonly onUse: (path: string) => void;
}

function Ports({ every, isRead, onUse }: PortsProps) {
  const { ports, why } = every;
  const [isAll, setAll] = useState(false);
  const usb = ports.filter(({ identity }) => identity !== null);
  const others = ports.filter(({ identity }) => identity === null);
  return (
    <>
      <section class="ports" aria-labelledby="plugged-in">
        <h2 id="plugged-in">{THERMOMETER.ports}</h2>
        <p>{usb.length > 0 ? THERMOMETER.restarts : isRead ? THERMOMETER.noOther : why}</p>
        <PortButtons ports={usb} onUse={onUse} />
        <Button onPress={() => setAll(!isAll)} expanded={isAll} class="button-low">
          {THERMOMETER.showAll}
        </Button>
      </section>
      {isAll && (
        <section class="ports" aria-labelledby="built-in">
          <h2 id="built-in">{THERMOMETER.others}</h2>
          {others.length === 0 && <p>{THERMOMETER.noOthers}</p>}
          <PortButtons ports={others} onUse={onUse} />
        </section>
      )}
    </>
  );
}

function PortButtons({ ports, onUse }: { readonly ports: readonly Port[]; readonly onUse: (path: string) => void }) {
  return ports.map(({ path, label }) => (
    <Button key={path} onPress={() => onUse(path)}>
      {label}
    </Button>
  ));
}

function Ask({ onAsk }: { readonly onAsk: (question: Question) => Promise<Answer<unknown>> }) {
  const [text, setText] = useState('');
  const [ending, setEnding] = useState<Ending>('lf');
  const [wrong, setWrong] = useState<string | null>(null);
  const send = async (): Promise<void> => {
    const answer = await onAsk({ text, ending });
    setWrong(answer.ok ? null : (answer.at?.rule ?? null));
  };
  return (
    <form
      class="profile-form ask-form"
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <h2>{THERMOMETER.speaksWhenAsked}</h2>
      <p>{THERMOMETER.nothingSent}</p>
      <div class="ask-usual">
        {USUAL_QUESTIONS.map((question) => (
          <Button
            key={question}
            onPress={() => setText(question)}
            pressed={text === question}
            look={text === question ? 'solid' : 'plain'}
          >
            {question}
          </Button>
        ))}
      </div>
      <fieldset class="field-row field-words-row">
        <Field
          name={THERMOMETER.question}
          value={text}
          hint={THERMOMETER.questionHint}
          wrong={wrong}
          onType={(typed) => {
            setText(typed);
            setWrong(null);
          }}
        />
      </fieldset>
      <div class="ask-usual" role="group" aria-label={THERMOMETER.end}>
        <b>{THERMOMETER.end}</b>
        {ENDINGS.map((each) => (
          <Button
            key={each}
            onPress={() => setEnding(each)}
            pressed={ending === each}
            look={ending === each ? 'solid' : 'plain'}
          >
            {THERMOMETER.ends[each]}
          </Button>
        ))}
      </div>
      <Button onPress={() => void send()} look="solid">
        {THERMOMETER.ask}
      </Button>
    </form>
  );
}
