/** One profile: its road, its numbers and where they come from; one's own can be changed, with the road going along, or deleted. */
import { useEffect, useState } from 'preact/hooks';
import type { Profile } from '../../server/core/record/profile.ts';
import { Button } from '../controls/button.tsx';
import { Field } from '../controls/field.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { ProfileForm } from '../controls/profile-form.tsx';
import { ProfileNumbers } from '../controls/profile-numbers.tsx';
import { ProfileRoad } from '../controls/profile-road.tsx';
import { TwoSteps } from '../controls/two-steps.tsx';
import type { Draft } from '../draft.ts';
import { changeProfile, checkDraft, copyProfile, deleteProfile, fetchShelf, type Wrong } from '../profiles.ts';
import { useLater } from '../use-later.ts';
import { PROFILE } from '../words/profiles.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';

interface Found {
  readonly profile: Profile;
  readonly isOwn: boolean;
}

export function ProfilePage({ about }: { readonly about: string }) {
  const [found, setFound] = useState<Found | null>(null);
  const [why, setWhy] = useState<string | null>(null);
  useEffect(() => {
    void fetchShelf().then((answer) => {
      if (!answer.ok) return setWhy(answer.why);
      const profile = answer.value.profiles.find(({ id }) => id === about);
      return profile === undefined ? setWhy('') : setFound({ profile, isOwn: answer.value.ids.includes(about) });
    });
  }, [about]);
  if (found === null) {
    const act = why === null ? PROFILE.fetching : PROFILE.notHere;
    return (
      <PlainPage
        act={act}
        detail={why ?? ''}
        isComing={why === null}
        controls={<Link to="#/profiles" word={ELSEWHERE.profiles} />}
      />
    );
  }
  return found.isOwn ? (
    <OwnProfile kept={found.profile} onKept={(profile) => setFound({ profile, isOwn: true })} />
  ) : (
    <ShippedProfile profile={found.profile} />
  );
}

function ShippedProfile({ profile }: { readonly profile: Profile }) {
  return (
    <PlainPage
      act={profile.title}
      detail={PROFILE.shipped}
      controls={<Link to="#/profiles" word={ELSEWHERE.profiles} />}
    >
      <ProfileRoad phases={profile.phases} />
      <Duplicate profile={profile} />
      <ProfileNumbers profile={profile} />
    </PlainPage>
  );
}

function OwnProfile({ kept, onKept }: { readonly kept: Profile; readonly onKept: (profile: Profile) => void }) {
  const [draft, setDraft] = useState<Draft>(kept);
  const [wrongs, setWrongs] = useState<readonly Wrong[]>([]);
  const [said, setSaid] = useState<string | null>(null);
  const isChanged = JSON.stringify(draft) !== JSON.stringify(kept);
  const isReady = isChanged && wrongs.length === 0;
  const check = useLater(async (next: Draft) => {
    const answer = await checkDraft(next);
    return answer.ok ? () => setWrongs(answer.value) : () => setSaid(answer.why);
  });
  const change = (next: Draft): void => {
    setDraft(next);
    setSaid(null);
    check(next);
  };
  const keep = async (): Promise<void> => {
    const answer = await changeProfile(draft);
    if (!answer.ok) return setSaid(answer.why);
    setSaid(PROFILE.kept);
    setDraft(answer.value);
    return onKept(answer.value);
  };
  const remove = async (): Promise<void> => {
    const answer = await deleteProfile(kept.id);
    if (answer.ok) location.hash = '#/profiles';
    else setSaid(answer.why);
  };
  return (
    <PlainPage
      act={kept.title}
      detail={detailOf(said, wrongs, isChanged)}
      controls={
        <>
          <Button onPress={() => void keep()} look="solid" disabled={!isReady}>
            {PROFILE.keep}
          </Button>
          {isChanged && <Button onPress={() => change(kept)}>{PROFILE.undo}</Button>}
          <Link to="#/profiles" word={ELSEWHERE.profiles} />
        </>
      }
    >
      <ProfileRoad phases={draft.phases} />
      <ProfileForm draft={draft} wrongs={wrongs} onChange={change} onKeep={() => isReady && void keep()} />
      <div class="profile-acts">
        <Duplicate profile={kept} />
        <TwoSteps
          word={PROFILE.delete}
          ask={`${PROFILE.askDelete} ${PROFILE.runsKeep}`}
          yes={PROFILE.deleteYes}
          no={PROFILE.deleteNo}
          onYes={() => void remove()}
        />
      </div>
    </PlainPage>
  );
}

function detailOf(said: string | null, wrongs: readonly Wrong[], isChanged: boolean): string {
  if (said !== null) return said;
  if (wrongs.length > 0) return PROFILE.wrong(wrongs.length);
  return isChanged ? PROFILE.unsaved : PROFILE.own;
}

/** A copy needs a name of its own; with it the page goes to the copy. */
function Duplicate({ profile }: { readonly profile: Profile }) {
  const [name, setName] = useState<string | null>(null);
  const [why, setWhy] = useState<string | null>(null);
  if (name === null)
    return (
      <Button onPress={() => setName(PROFILE.copyOf(profile.title))} class="button-low">
        {PROFILE.duplicate}
      </Button>
    );
  const copy = async (): Promise<void> => {
    const answer = await copyProfile(profile.id, name);
    if (answer.ok) location.hash = `#/profiles/${encodeURIComponent(answer.value.id)}`;
    else setWhy(answer.why);
  };
  const type = (text: string): void => {
    setWhy(null);
    setName(text);
  };
  return (
    <div class="duplicate">
      <Field name={PROFILE.copyName} value={name} wrong={why} onType={type} />
      <Button onPress={() => void copy()} look="solid" class="button-low">
        {PROFILE.keepCopy}
      </Button>
    </div>
  );
}
