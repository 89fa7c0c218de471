/** The thermometer: what is known of each of its probes, a check of one, and what its numbers are. */
import { useState } from 'preact/hooks';
import type { ProbeInUse, ProbeKnown } from '../../server/core/check/told.ts';
import { Button } from '../controls/button.tsx';
import { CheckSteps } from '../controls/check-steps.tsx';
import { NumberRows } from '../controls/number-rows.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { fetchProbe } from '../probe.ts';
import { useAsked } from '../use-asked.ts';
import { uncheckedWords } from '../words/before.ts';
import { day } from '../words/day.ts';
import { partsWords, SURE_WORDS } from '../words/belief.ts';
import { CHECK, correctionWords, offWords, probeName, STANDARD } from '../words/check.ts';

export function CheckPage({ bowl }: { readonly bowl: string | null }) {
  const { value: known, trouble, ask } = useAsked(bowl, () => fetchProbe(bowl!));
  const [chosen, setChosen] = useState<string | null>(null);
  const probes = known?.probes ?? [];
  const probe = probes.find((each) => keyOf(each) === chosen) ?? probes[0];
  return (
    <PlainPage
      act={CHECK.title}
      detail={known === null ? (trouble ?? CHECK.fetching) : standsWords(probe, known)}
      isComing={known === null && trouble === null}
      controls={<Link to="#/thermometer" word={CHECK.port} />}
    >
      {probe !== undefined && probes.length > 1 && <Probes probes={probes} probe={probe} onChoose={setChosen} />}
      {known !== null && probe !== undefined && <Known known={known} probe={probe} />}
      {bowl !== null && probe !== undefined && (
        <CheckSteps key={`${bowl} ${keyOf(probe)}`} bowl={bowl} probe={probe} onUsed={() => void ask()} />
      )}
      {bowl !== null && known !== null && <NumberRows bowl={bowl} known={known} onKept={ask} />}
    </PlainPage>
  );
}

function keyOf({ source, channel, role }: ProbeInUse): string {
  return JSON.stringify([source, channel, role]);
}

interface ProbesProps {
  readonly probes: readonly ProbeInUse[];
  readonly probe: ProbeInUse;
  readonly onChoose: (key: string) => void;
}

function Probes({ probes, probe, onChoose }: ProbesProps) {
  return (
    <div class="check-standards" role="group" aria-label={CHECK.which}>
      {probes.map((each) => (
        <Button key={keyOf(each)} pressed={each === probe} onPress={() => onChoose(keyOf(each))}>
          {probeName(each)}
        </Button>
      ))}
    </div>
  );
}

function standsWords(probe: ProbeInUse | undefined, { atC }: ProbeKnown): string {
  if (probe === undefined) return CHECK.noneUsed;
  const { check, isOld, role } = probe;
  if (check === null) return role === 'chocolate' ? uncheckedWords() : CHECK.unchecked;
  return `${offWords(probe, atC)}${isOld ? `; ${CHECK.old}` : ''}.`;
}

interface KnownProps {
  readonly known: ProbeKnown;
  readonly probe: ProbeInUse;
}

function Known({ known: { lag, atC }, probe }: KnownProps) {
  const { check, correction, uncertainty, isOld, role } = probe;
  const against = check?.points.map((point) => STANDARD[point.against].short).join(', ') ?? '';
  const facts = [
    [
      CHECK.lastCheck,
      check === null ? CHECK.never : `${day(check.checkedAtWall)}: ${against}${isOld ? `; ${CHECK.old}` : ''}`,
    ],
    [CHECK.correction, correctionWords(correction, atC)],
    [CHECK.apart, uncertainty === null ? CHECK.notKnown : `${offWords(probe, atC)}. ${partsWords(uncertainty)}`],
    ...(uncertainty === null ? [] : [[CHECK.sure, SURE_WORDS] as const]),
    ...(role === 'chocolate' ? [[CHECK.lag, lag === null ? CHECK.lagUnknown : CHECK.lagS(lag.lagS)] as const] : []),
  ] as const;
  return (
    <section class="probe-known" aria-labelledby="known">
      <h2 id="known">{CHECK.stands}</h2>
      <dl class="probe-facts">
        {facts.map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
