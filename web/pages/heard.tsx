/** What the thermometer says, line by line, how each is understood or why it is not, and which value is what: to be chosen by hand, too. */
import { useEffect, useState } from 'preact/hooks';
import type { Role } from '../../server/core/record/command.ts';
import { Button } from '../controls/button.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { type ExplainedValue, fetchHeard, type Heard, type HeardText, valuesHeard, visible } from '../heard.ts';
import { type PageCommand, postCommand } from '../post.ts';
import { useAsked } from '../use-asked.ts';
import { CHECK_LINK } from '../words/belief.ts';
import { capital, formatWords, HEARD, ROLE_WORD, sent, valueName, valueWords, WHY_WORD } from '../words/heard.ts';
import '../style/heard.css';
import { ELSEWHERE } from '../words/elsewhere.ts';

/** As often as most thermometers speak, ms. Ours. */
const LOOK_EVERY_MS = 1_000;
const ROLES: readonly Role[] = ['chocolate', 'bath', 'room', 'ignored'];

export function HeardPage({ bowl }: { readonly bowl: string | null }) {
  const { value: heard, trouble, ask } = useAsked(bowl, () => fetchHeard(bowl!));
  const [refused, setRefused] = useState<string | null>(null);
  useEffect(() => {
    if (bowl === null) return undefined;
    const timer = window.setInterval(() => void ask(), LOOK_EVERY_MS);
    return () => window.clearInterval(timer);
  }, [bowl]);
  const doing = async (...commands: readonly PageCommand[]): Promise<void> => {
    setRefused(null);
    for (const command of commands) {
      const answer = await postCommand(bowl!, command);
      if (!answer.ok) setRefused(answer.why);
    }
    await ask();
  };
  const said = saidOf(heard);
  return (
    <PlainPage
      act={said.act}
      detail={refused ?? trouble ?? said.detail}
      isComing={heard === null && trouble === null}
      controls={
        <>
          <Link to="#/check" word={CHECK_LINK.again} />
          <Link to="#/runs" word={ELSEWHERE.runs} />
        </>
      }
    >
      {heard?.question === 'comma' && <CommaQuestion line={heard.lines[0]!} onSay={(command) => void doing(command)} />}
      {heard !== null && <Values heard={heard} onSay={(...commands) => void doing(...commands)} />}
      {heard !== null && heard.lines.length > 0 && <Lines heard={heard} />}
    </PlainPage>
  );
}

function saidOf(heard: Heard | null): { readonly act: string; readonly detail: string } {
  if (heard === null) return { act: HEARD.title, detail: HEARD.coming };
  const newest = heard.lines[0];
  if (newest === undefined) return { act: HEARD.nothing, detail: HEARD.nothingDetail };
  if (heard.question === 'comma') return { act: HEARD.comma, detail: HEARD.commaDetail(visible(newest.text)) };
  if (heard.question === 'which') return { act: HEARD.which, detail: HEARD.whichDetail };
  if (heard.format === null) return { act: HEARD.unsure, detail: HEARD.unsureDetail };
  return { act: HEARD.understood, detail: formatWords(heard.format) };
}

function CommaQuestion({ line, onSay }: { readonly line: HeardText; readonly onSay: (command: PageCommand) => void }) {
  const [whole = '', part = ''] = line.text.trim().split(',');
  return (
    <div class="heard-answers">
      <Button onPress={() => onSay({ name: 'choose-reading', decimalComma: true })} look="solid">
        {HEARD.oneNumber(sent(Number(`${whole}.${part}`)))}
      </Button>
      <Button onPress={() => onSay({ name: 'choose-reading', decimalComma: false })} look="solid">
        {HEARD.twoNumbers(whole, part)}
      </Button>
    </div>
  );
}

type Say = (...commands: readonly PageCommand[]) => void;

function Values({ heard, onSay }: { readonly heard: Heard; readonly onSay: Say }) {
  const values = valuesHeard(heard);
  /** Nothing is chosen yet: whichever is tapped is said. */
  const isAsked = heard.question === 'which';
  if (heard.question === 'comma' || heard.format === null || values.length === 0) return null;
  const choose = (key: string, role: Role): void => {
    // Whoever was the chocolate is it no longer: a line has one.
    const before =
      role === 'chocolate' && !isAsked ? values.filter((each) => each.role === 'chocolate' && each.key !== key) : [];
    onSay(...before.map((each) => assigned(each.key, 'ignored')), assigned(key, role));
  };
  return (
    <section>
      <h2>{HEARD.values}</h2>
      <ul class="heard-values">
        {values.map((value) => (
          <ValueRow
            key={value.key}
            value={value}
            name={valueName(value.label, value.at)}
            role={isAsked ? 'ignored' : (value.role ?? 'ignored')}
            onChoose={choose}
          />
        ))}
      </ul>
    </section>
  );
}

function assigned(channel: string, role: Role): PageCommand {
  return { name: 'assign-role', channel, role };
}

interface ValueRowProps {
  readonly value: ExplainedValue;
  readonly name: string;
  readonly role: Role;
  readonly onChoose: (key: string, role: Role) => void;
}

function ValueRow({ value, name, role, onChoose }: ValueRowProps) {
  return (
    <li class="heard-value">
      <span class="heard-words">
        <b>{capital(name)}</b>
        <span>
          <code>{value.value === null ? '' : sent(value.value)}</code> {valueWords(value.what, value.valueC)}
        </span>
      </span>
      <label class="heard-role">
        <span>{HEARD.whose}</span>
        <select
          aria-label={HEARD.roles(name)}
          value={role}
          onChange={(event) => onChoose(value.key, event.currentTarget.value as Role)}
        >
          {ROLES.map((each) => (
            <option key={each} value={each}>
              {ROLE_WORD[each]}
            </option>
          ))}
        </select>
      </label>
    </li>
  );
}

function Lines({ heard }: { readonly heard: Heard }) {
  return (
    <section>
      <h2>{HEARD.lines}</h2>
      <ol class="heard-lines">
        {heard.lines.map((line, at) => (
          <li key={`${line.atMs} ${at}`} class={line.why === null ? '' : 'heard-ignored'}>
            <code>{visible(line.text)}</code>
            <span>{lineWords(line)}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}

/** What was understood of a line: its temperatures by role or name, or why nothing. */
function lineWords({ why, values }: HeardText): string {
  if (why !== null) return `${HEARD.ignored} ${WHY_WORD[why] ?? why}`;
  const used = values.flatMap(({ label, role, what, valueC }, at) =>
    valueC === null
      ? []
      : [`${role === null || role === 'ignored' ? valueName(label, at) : ROLE_WORD[role]} ${valueWords(what, valueC)}`],
  );
  return capital(used.join(', '));
}
