/** The bench: which bowls there are and what they are called, what each thermometer is in, and what else is plugged in. */
import { useEffect, useState } from 'preact/hooks';
import {
  addBowl,
  type Bench,
  type BenchChannel,
  type BenchThermometer,
  type ChannelPlace,
  fetchBench,
  nameBowl,
  putChannel,
  putThermometerAway,
  takeBowlAway,
} from '../bench.ts';
import { Button } from '../controls/button.tsx';
import { Field } from '../controls/field.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { TwoSteps } from '../controls/two-steps.tsx';
import { fetchPorts, type PortChoice, postPort } from '../fetched.ts';
import { type Answer } from '../post.ts';
import { useAsked } from '../use-asked.ts';
import { BENCH } from '../words/bench.ts';
import { bowlName } from '../words/bowl-name.ts';
import { degrees } from '../words/measure.ts';
import { unitSign } from '../words/manner.ts';
import { linkWords } from '../words/idle.ts';
import type { BowlLabel } from '../../server/core/show/wire.ts';

/** What a thermometer says is seen here after so long at most, ms (ours: whoever holds a probe in the hand watches its figure rise). */
const LOOK_EVERY_MS = 2_000;

/** Does what is asked, and looks again. */
type Does = (work: Promise<Answer<unknown>>) => void;

export function BenchPage() {
  const bench = useAsked('bench', fetchBench);
  const ports = useAsked('ports', fetchPorts);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    const timer = window.setInterval(() => void Promise.all([bench.ask(), ports.ask()]), LOOK_EVERY_MS);
    return () => window.clearInterval(timer);
  }, []);
  const does: Does = (work) =>
    void work.then(async (answer) => {
      setTrouble(answer.ok ? null : answer.why);
      await Promise.all([bench.ask(), ports.ask()]);
    });
  const here = bench.value;
  return (
    <PlainPage
      act={BENCH.title}
      detail={trouble ?? bench.trouble ?? saidOf(here)}
      isComing={here === null && bench.trouble === null}
      controls={
        here !== null && (
          <Button onPress={() => does(addBowl())} disabled={here.bowls.length >= here.bowlsMost}>
            {BENCH.add}
          </Button>
        )
      }
    >
      {here !== null && here.thermometers.length > 0 && (
        <section aria-labelledby="bench-thermometers">
          <h2 id="bench-thermometers">{BENCH.thermometers}</h2>
          <div class="bench-parts">
            {here.thermometers.map((each) => (
              <ThermometerPart key={each.thermometer} thermometer={each} bowls={here.bowls} does={does} />
            ))}
          </div>
        </section>
      )}
      <PluggedPart ports={ports.value ?? []} does={does} />
      {here !== null && (
        <section aria-labelledby="bench-bowls">
          <h2 id="bench-bowls">{BENCH.bowls}</h2>
          <div class="bench-parts">
            {here.bowls.map((bowl) => (
              <BowlPart key={bowl.bowl} bowl={bowl} bowls={here.bowls} does={does} />
            ))}
          </div>
          {here.bowls.length >= here.bowlsMost && <p class="quiet">{BENCH.full(here.bowlsMost)}</p>}
        </section>
      )}
    </PlainPage>
  );
}

function saidOf(bench: Bench | null): string {
  return bench === null ? BENCH.fetching : BENCH.detail(bench.bowls.length, bench.thermometers.length);
}

interface BowlPartProps {
  readonly bowl: BowlLabel;
  readonly bowls: readonly BowlLabel[];
  readonly does: Does;
}

function BowlPart({ bowl: { bowl, name }, bowls, does }: BowlPartProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const called = bowlName(bowls, bowl);
  const keep = (): void => {
    does(nameBowl(bowl, typed ?? ''));
    setTyped(null);
  };
  return (
    <section class="bench-bowl" aria-label={called}>
      <h3>{called}</h3>
      <Field name={BENCH.name} value={typed ?? name ?? ''} onType={setTyped} hint={BENCH.nameHint} />
      <div class="bench-buttons">
        {typed !== null && typed.trim() !== (name ?? '') && (
          <Button onPress={keep} look="solid" class="button-low">
            {BENCH.keepName}
          </Button>
        )}
        <Link to={`#/bowl/${encodeURIComponent(bowl)}`} word={BENCH.goThere} isLow />
        {bowls.length > 1 && (
          <TwoSteps
            word={BENCH.takeAway}
            label={`${BENCH.takeAway}: ${called}`}
            ask={BENCH.askTakeAway(called)}
            yes={BENCH.yes}
            no={BENCH.no}
            onYes={() => does(takeBowlAway(bowl))}
          />
        )}
      </div>
    </section>
  );
}

interface ThermometerPartProps {
  readonly thermometer: BenchThermometer;
  readonly bowls: readonly BowlLabel[];
  readonly does: Does;
}

function ThermometerPart({ thermometer: it, bowls, does }: ThermometerPartProps) {
  const [held] = it.channels[0]?.bowls ?? [];
  return (
    <div class="bench-thermometer">
      <p>{it.simulated && held !== undefined ? BENCH.simulated(bowlName(bowls, held)) : linkWords(it.link)}</p>
      {!it.simulated &&
        it.channels.map((channel) => (
          <ChannelPart
            key={channel.channel}
            channel={channel}
            isOnly={it.channels.length === 1}
            bowls={bowls}
            onPut={(place) => does(putChannel(it.thermometer, channel.channel, place))}
          />
        ))}
      {it.mayPutAway && (
        <Button onPress={() => does(putThermometerAway(it.thermometer))} class="button-low">
          {BENCH.putAway}
        </Button>
      )}
    </div>
  );
}

interface ChannelPartProps {
  readonly channel: BenchChannel;
  /** The thermometer has no other. */
  readonly isOnly: boolean;
  readonly bowls: readonly BowlLabel[];
  readonly onPut: (place: ChannelPlace) => void;
}

function ChannelPart({ channel, isOnly, bowls, onPut }: ChannelPartProps) {
  const choices = choicesFor(bowls);
  const chosen = choices.findIndex(({ place }) => isSame(place, channel));
  const what = isOnly ? BENCH.whole : BENCH.channel(channel.channel);
  const says = channel.valueC === null ? BENCH.nothingYet : `${degrees(channel.valueC)} ${unitSign()}`;
  return (
    <label class="bench-channel">
      <b class="bench-says">{says}</b>
      <span>{BENCH.isIn(what)}</span>
      <select value={String(chosen)} onChange={(event) => onPut(choices[Number(event.currentTarget.value)]!.place)}>
        {choices.map(({ words }, index) => (
          <option key={words} value={String(index)}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

/** All that one channel can be in, on this bench. */
function choicesFor(bowls: readonly BowlLabel[]): readonly { readonly words: string; readonly place: ChannelPlace }[] {
  const each = bowls.map(({ bowl }) => ({ bowl, name: bowlName(bowls, bowl) }));
  const all = bowls.map(({ bowl }) => bowl);
  return [
    ...each.map(({ bowl, name }) => ({
      words: BENCH.chocolateOf(name),
      place: { role: 'chocolate', bowls: [bowl] } as const,
    })),
    ...each.map(({ bowl, name }) => ({ words: BENCH.bathOf(name), place: { role: 'bath', bowls: [bowl] } as const })),
    ...(bowls.length > 1 ? [{ words: BENCH.bathOfAll, place: { role: 'bath', bowls: all } as const }] : []),
    { words: BENCH.room, place: { role: 'room', bowls: [] } },
    { words: BENCH.nothing, place: { role: 'ignored', bowls: [] } },
  ];
}

/** Whose room it is, and whose nothing, makes no difference. */
function isSame(place: ChannelPlace, { role, bowls }: BenchChannel): boolean {
  if (place.role !== role) return false;
  if (role === 'room' || role === 'ignored') return true;
  return place.bowls.length === bowls.length && place.bowls.every((bowl) => bowls.includes(bowl));
}

function PluggedPart({ ports, does }: { readonly ports: readonly PortChoice[]; readonly does: Does }) {
  if (ports.length === 0) return null;
  return (
    <section class="ports" aria-labelledby="bench-plugged">
      <h2 id="bench-plugged">{BENCH.plugged}</h2>
      {ports.map(({ path, label }) => (
        <Button key={path} onPress={() => does(postPort(path, null))}>
          {BENCH.read(label)}
        </Button>
      ))}
    </section>
  );
}
