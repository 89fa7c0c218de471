/** The thermometer: what is known of it, a check of it, and what its numbers are. */
import { CheckSteps } from '../controls/check-steps.tsx';
import { NumberRows } from '../controls/number-rows.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { fetchProbe, type ProbeKnown } from '../probe.ts';
import { useAsked } from '../use-asked.ts';
import { uncheckedWords } from '../words/before.ts';
import { apart, day, goal } from '../words/measure.ts';
import { marked, unitSign } from '../words/manner.ts';
import { beliefWords, partsWords } from '../words/belief.ts';
import { STANDARD, CHECK } from '../words/check.ts';

export function CheckPage({ bowl }: { readonly bowl: string | null }) {
  const { value: known, trouble, ask } = useAsked(bowl, () => fetchProbe(bowl!));
  return (
    <PlainPage
      act={CHECK.title}
      detail={known === null ? (trouble ?? CHECK.fetching) : standsWords(known)}
      isComing={known === null && trouble === null}
      controls={<Link to="#/thermometer" word={CHECK.port} />}
    >
      {known !== null && <Known known={known} />}
      {bowl !== null && <CheckSteps key={bowl} bowl={bowl} onUsed={() => void ask()} />}
      {bowl !== null && known !== null && <NumberRows bowl={bowl} known={known} onKept={ask} />}
    </PlainPage>
  );
}

function standsWords({ uncertainty, isOld }: ProbeKnown): string {
  if (uncertainty === null) return uncheckedWords();
  return `${beliefWords(uncertainty)}${isOld ? `; ${CHECK.old}` : ''}.`;
}

function Known({ known }: { readonly known: ProbeKnown }) {
  const { check, correction, uncertainty, lag, isOld } = known;
  const against = check?.points.map((point) => STANDARD[point.against].short).join(', ') ?? '';
  const facts = [
    [
      CHECK.lastCheck,
      check === null ? CHECK.never : `${day(check.checkedAtWall)}: ${against}${isOld ? `; ${CHECK.old}` : ''}`,
    ],
    [CHECK.correction, correctionWords(correction)],
    [CHECK.apart, uncertainty === null ? CHECK.notKnown : `${beliefWords(uncertainty)}. ${partsWords(uncertainty)}`],
    [CHECK.lag, lag === null ? CHECK.lagUnknown : CHECK.lagS(lag.lagS)],
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

/** The shift at 0 °C alone says little where the scale is corrected too: what it does at the work is what counts. */
function correctionWords({ offsetC, gain }: ProbeKnown['correction']): string {
  if (offsetC === 0 && gain === 1) return CHECK.none;
  const atC = 32;
  const byC = atC - (atC - offsetC) / gain;
  return `${byC < 0 ? '−' : '+'}${apart(Math.abs(byC))} ${unitSign()}${gain === 1 ? '' : `, ${goal(atC)} (× ${marked(gain.toFixed(4))})`}`;
}
