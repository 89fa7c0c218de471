/** The pages about profiles, backups, other screens and the thermometer, fetched together: they share most of what they need, and nobody waits for either beside a bowl. */
export { BagPage } from './bag.tsx';
export { CheckPage } from './check.tsx';
export { KeptPage } from './kept.tsx';
export { ProfilePage } from './profile.tsx';
export { ProfilesPage } from './profiles.tsx';
export { ScreensPage } from './screens.tsx';
export { ThermometerPage } from './thermometer.tsx';
