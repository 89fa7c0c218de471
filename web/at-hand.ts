/**
 * What answers a hand, the strips over a run, and what is said in full where something is wrong: fetched as soon as the page stands, before the
 * road and before anything is tapped. A page that only shows a bowl needs none of it. An alarm that nobody has seen says without it what to
 * do and which it is, and is answered; its voice a tap has to turn on first.
 */
export { arrive } from './arrival.ts';
export { KeepAwake } from './controls/keep-awake.tsx';
export { LookButtons } from './controls/look-buttons.tsx';
export { LookingOnBar, OtherControls } from './controls/other-controls.tsx';
export { RunSheets } from './controls/run-sheets.tsx';
export { RunStrips } from './controls/run-strips.tsx';
export { SoundHelp, SoundQuestion } from './controls/sound-test.tsx';
export { ReadOut } from './controls/read-out.tsx';
export { RoadTable } from './controls/road-table.tsx';
export { StepBar } from './controls/step-bar.tsx';
export { postNote } from './fetched.ts';
export { StartPage } from './pages/start.tsx';
export { Loudspeaker } from './sound/loudspeaker.ts';
export * as trouble from './words/trouble.ts';
