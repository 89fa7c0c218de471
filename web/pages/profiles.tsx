/** All profiles: a plain list, those that came with Bowlside first, each as a small road with the bands it leads through. */
import { useEffect, useState } from 'preact/hooks';
import type { Profile } from '../../server/core/record/profile.ts';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { ProfileRoad } from '../controls/profile-road.tsx';
import { fetchShelf, type Shelf } from '../profiles.ts';
import { bandsInOrder } from '../words/bands.ts';
import { PROFILES } from '../words/profiles.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';

export function ProfilesPage() {
  const [shelf, setShelf] = useState<Shelf | null>(null);
  const [why, setWhy] = useState<string | null>(null);
  useEffect(() => {
    void fetchShelf().then((answer) => (answer.ok ? setShelf(answer.value) : setWhy(answer.why)));
  }, []);
  const detail =
    shelf === null ? PROFILES.fetching : PROFILES.count(shelf.profiles.length - shelf.ids.length, shelf.ids.length);
  return (
    <PlainPage
      act={why === null ? PROFILES.title : PROFILES.notHere}
      detail={why ?? detail}
      isComing={shelf === null && why === null}
      controls={<Link to="#/bag" word={ELSEWHERE.bag} isSolid />}
    >
      {shelf !== null && (
        <ul class="run-rows">
          {shelf.profiles.map((profile) => (
            <ProfileRow key={profile.id} profile={profile} isOwn={shelf.ids.includes(profile.id)} />
          ))}
        </ul>
      )}
      {shelf !== null && shelf.leftOut.length > 0 && <LeftOut leftOut={shelf.leftOut} />}
    </PlainPage>
  );
}

function ProfileRow({ profile, isOwn }: { readonly profile: Profile; readonly isOwn: boolean }) {
  return (
    <li>
      <a class="run-row" href={`#/profiles/${encodeURIComponent(profile.id)}`}>
        <span class="run-title">
          <b>{profile.title}</b>
          <span>{isOwn ? PROFILES.own : PROFILES.shipped}</span>
        </span>
        <ProfileRoad phases={profile.phases} isSmall />
        <span class="run-outcome">
          <b>{bandsInOrder(profile.phases, PROFILES.between)}</b>
          <span>{profile.coating}</span>
        </span>
      </a>
    </li>
  );
}

function LeftOut({ leftOut }: Pick<Shelf, 'leftOut'>) {
  return (
    <section class="left-out">
      <h2>{PROFILES.leftOut}</h2>
      <p>{PROFILES.leftOutWhy}</p>
      <ul>
        {leftOut
          .flatMap(({ complaints }) => complaints)
          .map((complaint) => (
            <li key={complaint}>{complaint}</li>
          ))}
      </ul>
    </section>
  );
}
