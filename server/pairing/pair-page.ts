/** What a screen that is not let in gets to see: one field for the code, one for what it is called. No script, nothing fetched. */
import { escaped } from '../handover/svg.ts';
import { INVITATION_MS, NAME_MOST } from './guests.ts';

/** Why it is shown again. */
export type PairTrouble = 'wrong' | 'locked' | 'full';

export const PAIR_PATH = '/pair';
const MINUTE_MS = 60_000;

const TROUBLE: Readonly<Record<PairTrouble, string>> = {
  wrong: 'That code does not hold. It may have been used, or be older than ten minutes: ask for a new one.',
  locked: 'Too many wrong codes came from here. Wait two minutes, then try once more.',
  full: 'No more screens are let in. Ask for one to be shut out first.',
};

export const PAIR_STYLE = `
:root { color-scheme: light dark; --slab: #dde8e4; --ink: #13202b; --lane: #ffffff; --leaf: #0b5240; --pod: #9a0e36; }
@media (prefers-color-scheme: dark) { :root { --slab: #0f171d; --ink: #f3f7f5; --lane: #1b2730; --leaf: #86e0bc; --pod: #ffacb5; } }
body { margin: 0; padding: 6vmin; background: var(--slab); color: var(--ink); font: 20px/1.45 system-ui, sans-serif; }
main { max-width: 32em; margin: 0 auto; }
h1 { margin: 0 0 0.4em; font-size: 2em; line-height: 1.15; }
label { display: block; margin: 1.2em 0 0.3em; font-weight: 700; }
input { box-sizing: border-box; width: 100%; min-height: 64px; padding: 0 16px; border: 3px solid var(--ink); border-radius: 8px; background: var(--lane); color: inherit; font: inherit; }
input[name='code'] { font-size: 1.6em; font-variant-numeric: tabular-nums; letter-spacing: 0.12em; text-transform: uppercase; }
button { min-height: 72px; margin-top: 1.6em; padding: 0 32px; border: 0; border-radius: 8px; background: var(--leaf); color: var(--slab); font: inherit; font-weight: 800; }
:focus-visible { outline: 4px solid var(--leaf); outline-offset: 3px; }
[role='alert'] { color: var(--pod); font-weight: 700; }
`;

/** `code`, `name`: as they were typed, or came with the link. */
export function pairPage(code: string, name: string, trouble: PairTrouble | null): string {
  const alert = trouble === null ? '' : `<p role="alert">${TROUBLE[trouble]}</p>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Bowlside: let this screen in</title>
<style>${PAIR_STYLE}</style>
</head>
<body>
<main>
<h1>This screen is not let in yet.</h1>
<p>On the machine that has the thermometer, open More, then Other screens. It shows a code that holds for ${INVITATION_MS / MINUTE_MS} minutes.</p>
${alert}
<form method="post" action="${PAIR_PATH}">
<label for="code">The code</label>
<input id="code" name="code" value="${escaped(code)}" required autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="16">
<label for="name">What this screen is called</label>
<input id="name" name="name" value="${escaped(name)}" placeholder="Tablet by the window" maxlength="${NAME_MOST}" autocomplete="off">
<button>Let me in</button>
</form>
</main>
</body>
</html>
`;
}
