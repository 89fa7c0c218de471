/** Which thermometer is in the chocolate, where that is a question. */
import { useEffect, useState } from 'preact/hooks';
import { fetchPorts, postPort } from '../post.ts';
import type { PortChoice } from '../post.ts';
import { START } from '../words/page.ts';
import { Button } from './button.tsx';

/** Asked anew this often while no thermometer is open, ms (ours: a plug just pushed in should be there when one looks up). */
const PORTS_EVERY_MS = 3_000;

/** Ports nobody may guess among: opening one is the person's to say. */
export function PortChoices({ isAsked }: { readonly isAsked: boolean }) {
  const [ports, setPorts] = useState<readonly PortChoice[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    if (!isAsked) return setPorts([]);
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
  }, [isAsked]);
  const use = (path: string): void => void postPort(path).then((answer) => setTrouble(answer.ok ? null : answer.why));
  if (ports.length === 0) return null;
  return (
    <section class="ports" aria-labelledby="which-thermometer">
      <h2 id="which-thermometer">{START.whichProbe}</h2>
      {ports.map(({ path, label }) => (
        <Button key={path} onPress={() => use(path)}>
          {label}
        </Button>
      ))}
      {trouble !== null && <p role="alert">{trouble}</p>}
    </section>
  );
}
