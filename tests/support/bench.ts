/** The bench around a bowl in the test's hands, as the routes want it: real bowls, router and settings, and thermometers the test names. */
import { Bowls } from '../../server/bench/bowls.ts';
import { KeptBench } from '../../server/bench/kept-bench.ts';
import type { Live } from '../../server/live.ts';
import { Placing } from '../../server/bench/placing.ts';
import { Router } from '../../server/bench/router.ts';
import type { Thermometers } from '../../server/bench/thermometers.ts';
import type { Session } from '../../server/session/session.ts';
import { NO_CHOICE } from '../../server/session/idle.ts';
import { type Bowl, BOWL } from './server.ts';

export type OpenThermometers = Pick<Thermometers, 'choices' | 'all' | 'choose' | 'ask' | 'put' | 'isBeside'>;

/** Nothing is plugged in that is not read already. */
export const NO_PORTS: OpenThermometers = {
  choices: () => Promise.resolve([]),
  all: () => Promise.resolve({ ports: [], why: '' }),
  choose: () => Promise.resolve(null),
  ask: () => Promise.resolve(false),
  put: () => Promise.resolve(false),
  isBeside: () => false,
};

/** A test may say what is plugged in as it goes. */
type Settable = { -readonly [K in keyof OpenThermometers]: OpenThermometers[K] };

/**
 * The thermometer of the test's bowl, `test`, is not one of the router's: a test that changes the bench plugs its own. Bowls that come later
 * have none.
 */
export function benchAround(bowl: Bowl, thermometers: Settable = { ...NO_PORTS }) {
  const bench = new KeptBench(bowl.store.folder);
  const sessions = new Map<string, Session>();
  const bowls = new Bowls({ bench, sessions, session: (id) => (id === BOWL ? bowl.session : bowl.another(id)) });
  const router = new Router({
    clock: bowl.clock,
    bench,
    sessions,
    nameOf: (source) => source,
    known: (source) => bowl.probes.of(source),
    choiceFor: () => NO_CHOICE,
    onMain: () => {},
  });
  const placing = new Placing({ bench, router, sessions, probes: bowl.probes });
  bowl.places = (id) => placing.placesOf(id);
  bowl.nameOf = (id) => bowls.nameOf(id);
  const shownBy = (live: Live): void => {
    bowls.follow({ came: (session) => live.join(session), went: (session) => live.leave(session) });
    bench.onChanged(() => live.tellBowls());
  };
  /** A thermometer that is read from now on; `home`: as the router has it. */
  const plug = (id: string, home: 'first' | null): void => {
    router.add({ id, simulated: false }, home);
    router.input({ atMs: bowl.clock.nowMs(), source: id, kind: 'link', up: true });
    router.link(id, { state: 'up', label: id });
  };
  const says = (source: string, text: string): void =>
    router.input({ atMs: bowl.clock.nowMs(), source, kind: 'line', text });
  bowl.probes.onChanged(() => {
    if (router.feeds.length > 0) router.arrange();
  });
  bench.onChanged(() => router.arrange());
  return { bench, shownBy, plug, says, sessions, bowls, router, placing, thermometers };
}
