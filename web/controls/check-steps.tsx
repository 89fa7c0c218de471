/** A check of one probe, led through: what to hold it in, how, whether it is steady, and what comes of it. */
import { useState } from 'preact/hooks';
import type { Standard } from '../../server/core/check/standard.ts';
import type { ProbeNamed } from '../../server/core/check/told.ts';
import type { CheckPoint, StandardName } from '../../server/core/record/check.ts';
import { ALTITUDE_M, STATION_HPA, TRUSTED_C, TRUSTED_WITHIN_C } from '../../server/core/show/checkable.ts';
import { keep, kept } from '../kept.ts';
import { postCommand } from '../post.ts';
import { typedNumber } from '../room.ts';
import { useAwake } from '../use-awake.ts';
import { useCheck } from '../use-check.ts';
import { fromUnit, inUnit, isFahrenheit, unitSign } from '../words/manner.ts';
import { outcomeWords, pointWords, STANDARD, CHECK, watchWords } from '../words/check.ts';
import { Button } from './button.tsx';
import { Field } from './field.tsx';

const NAMES: readonly StandardName[] = ['ice', 'thermometer', 'steam'];

/** What was typed of a standard, as it was typed. */
interface Typed {
  readonly trusted: string;
  readonly within: string;
  readonly airBy: 'altitude' | 'station';
  readonly altitude: string;
  readonly station: string;
}

const NOTHING: Typed = { trusted: '', within: '', airBy: 'altitude', altitude: '', station: '' };

/** Under this the points of a probe are kept until they are used. */
function keptOf({ source, channel }: ProbeNamed): string {
  return `check-points ${source} ${channel ?? ''}`;
}

export interface CheckStepsProps {
  readonly bowl: string;
  readonly probe: ProbeNamed;
  readonly onUsed: () => void;
}

export function CheckSteps({ bowl, probe, onUsed }: CheckStepsProps) {
  const { source, channel } = probe;
  const [against, setAgainst] = useState<StandardName | null>(null);
  const [typed, setTyped] = useState(NOTHING);
  const [points, setPoints] = useState(() => kept(keptOf(probe), isPoints, []));
  const [said, setSaid] = useState<string | null>(null);
  // What was noted before gives its correction, whatever the probe is held in by now: it may be back in the chocolate.
  const { stands, trouble } = useCheck(bowl, against !== null || points.length > 0, {
    probe: { source, channel },
    standard: against === null ? null : standardOf(against, typed),
    points,
    isWatched: against !== null,
  });
  useAwake(against !== null);
  const change = (next: readonly CheckPoint[]): void => {
    keep(keptOf(probe), next.length === 0 ? null : next);
    setPoints(next);
  };
  const note = (point: CheckPoint): void => change([...points.filter((each) => each.against !== point.against), point]);
  const use = async (): Promise<void> => {
    if (stands?.outcome.is !== 'found') return;
    const check = { checkedAtWall: stands.atWall, points };
    const of = { source, ...(channel !== null && { channel }) };
    const answer = await postCommand(bowl, { name: 'set-correction', ...stands.outcome.correction, check, ...of });
    setSaid(answer.ok ? CHECK.used : answer.why);
    if (!answer.ok) return;
    change([]);
    setAgainst(null);
    onUsed();
  };
  return (
    <section class="check" aria-labelledby="check">
      <h2 id="check">{CHECK.check}</h2>
      <p>{CHECK.best}</p>
      <ul class="cautions">
        {CHECK.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <div class="check-standards">
        {NAMES.map((name) => (
          <Button
            key={name}
            pressed={against === name}
            onPress={() => {
              setSaid(null);
              setAgainst(against === name ? null : name);
            }}
          >
            {STANDARD[name].name}
          </Button>
        ))}
      </div>
      {against !== null && (
        <div class="check-going">
          <ol>
            {STANDARD[against].steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
          <StandardFields against={against} typed={typed} onType={(part) => setTyped({ ...typed, ...part })} />
          <p class="check-watch" role="status">
            {trouble ?? (stands === null ? CHECK.fetching : watchWords(stands.steadiness))}
          </p>
          <Button
            look="solid"
            disabled={(stands?.point ?? null) === null}
            onPress={() => {
              if (stands?.point) note(stands.point);
            }}
          >
            {CHECK.note}
          </Button>
        </div>
      )}
      {points.length > 0 && (
        <div class="check-points">
          <h3>{CHECK.points}</h3>
          <ul>
            {points.map((point) => (
              <li key={point.against}>{pointWords(point)}</li>
            ))}
          </ul>
          {stands !== null && <p class="check-outcome">{outcomeWords(stands.outcome)}</p>}
          <div class="check-acts">
            <Button look="solid" disabled={stands?.outcome.is !== 'found'} onPress={() => void use()}>
              {CHECK.use}
            </Button>
            <Button onPress={() => change([])}>{CHECK.again}</Button>
          </div>
        </div>
      )}
      {said !== null && <p role="status">{said}</p>}
    </section>
  );
}

interface StandardFieldsProps {
  readonly against: StandardName;
  readonly typed: Typed;
  readonly onType: (part: Partial<Typed>) => void;
}

function StandardFields({ against, typed, onType }: StandardFieldsProps) {
  if (against === 'ice') return null;
  if (against === 'thermometer') {
    return (
      <div class="field-row">
        <Field
          name={`${CHECK.trusted}, ${unitSign()}`}
          kind="number"
          value={typed.trusted}
          onType={(trusted) => onType({ trusted })}
        />
        <Field
          name={`${CHECK.trustedWithin}, ${unitSign()}`}
          kind="number"
          value={typed.within}
          onType={(within) => onType({ within })}
        />
      </div>
    );
  }
  const isStation = typed.airBy === 'station';
  return (
    <div class="check-air" role="group" aria-label={CHECK.air}>
      <div class="check-standards">
        <Button pressed={!isStation} onPress={() => onType({ airBy: 'altitude' })}>
          {CHECK.byAltitude}
        </Button>
        <Button pressed={isStation} onPress={() => onType({ airBy: 'station' })}>
          {CHECK.byStation}
        </Button>
      </div>
      {isStation ? (
        <Field
          name={CHECK.station}
          kind="number"
          hint={CHECK.stationHint}
          value={typed.station}
          onType={(station) => onType({ station })}
        />
      ) : (
        <Field
          name={CHECK.altitude}
          kind="number"
          hint={CHECK.altitudeHint}
          value={typed.altitude}
          onType={(altitude) => onType({ altitude })}
        />
      )}
    </div>
  );
}

/** null: something is still to be typed. */
function standardOf(against: StandardName, typed: Typed): Standard | null {
  if (against === 'ice') return { against };
  if (against === 'thermometer') {
    const reads = typedNumber(typed.trusted, [inUnit(TRUSTED_C[0]), inUnit(TRUSTED_C[1])]);
    const step = isFahrenheit() ? 1.8 : 1;
    const within = typedNumber(typed.within, [TRUSTED_WITHIN_C[0] * step, TRUSTED_WITHIN_C[1] * step]);
    return reads === null || within === null ? null : { against, trueC: fromUnit(reads), withinC: within / step };
  }
  if (typed.airBy === 'station') {
    const hpa = typedNumber(typed.station, STATION_HPA);
    return hpa === null ? null : { against, air: { by: 'station', hpa } };
  }
  const altitudeM = typedNumber(typed.altitude, ALTITUDE_M);
  return altitudeM === null ? null : { against, air: { by: 'altitude', altitudeM } };
}

/** The server looks at them again. */
function isPoints(value: unknown): value is readonly CheckPoint[] {
  return Array.isArray(value) && value.every((point) => typeof point === 'object' && point !== null);
}
