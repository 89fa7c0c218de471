/** Thermometers that are plugged in and not read: which of them is in the chocolate; or, once one is, that there is another. */
import { useEffect, useState } from 'preact/hooks';
import { fetchPorts, postPort } from '../fetched.ts';
import type { PortChoice } from '../fetched.ts';
import { BENCH } from '../words/bench.ts';
import { Button } from './button.tsx';

/** Asked anew this often, ms (ours: a plug just pushed in should be there when one looks up). */
const PORTS_EVERY_MS = 3_000;

/** Ports nobody may guess among: opening one is the person's to say. */
export function PortChoices({ bowl, isAsked }: { readonly bowl: string; readonly isAsked: boolean }) {
  const [ports, setPorts] = useState<readonly PortChoice[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    let isStillAsked = true;
    const look = async (): Promise<void> => {
      const answer = await fetchPorts();
      if (isStillAsked) setPorts(answer.ok ? answer.value : []);
    };
    void look();
    const timer = window.setInterval(() => void look(), PORTS_EVERY_MS);
    return () => {
      isStillAsked = false;
      window.clearInterval(timer);
    };
  }, []);
  const use = (path: string): void =>
    void postPort(path, bowl).then((answer) => setTrouble(answer.ok ? null : answer.why));
  if (ports.length === 0) return null;
  if (!isAsked)
    return (
      <p class="start-link">
        {BENCH.another(ports.length)} <a href="#/bench">{BENCH.whatIn}</a>
      </p>
    );
  return (
    <section class="ports" aria-labelledby="which-thermometer">
      <h2 id="which-thermometer">{BENCH.whichProbe}</h2>
      {ports.map(({ path, label }) => (
        <Button key={path} onPress={() => use(path)}>
          {label}
        </Button>
      ))}
      {trouble !== null && <p role="alert">{trouble}</p>}
    </section>
  );
}
