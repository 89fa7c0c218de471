/** What is wrong with a page as it stands in the browser for fingers and eyes, in words. */
import type { Page } from 'playwright-core';

/** Whether it is wider than its screen; none is right. */
export function widthFaults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { clientWidth: width, scrollWidth } = document.documentElement;
    return scrollWidth > width ? [`the page is ${scrollWidth} wide in ${width}`] : [];
  });
}

/** What has to be in sight without scrolling, wherever it stands on the page, and is not: the sentence, and the word that no alarm is heard. */
export function outOfSight(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    ['.act', '.detail', '.sound-bar', '.sound-ask'].filter((name) => {
      const box = document.querySelector(name)?.getBoundingClientRect();
      return box !== undefined && (box.top < 0 || box.bottom > innerHeight + 0.5);
    }),
  );
}

/** Faults in the layout of what can be pressed, in words; none is right. */
export function layoutFaults(page: Page, leastPx: number, apartPx: number): Promise<string[]> {
  return page.evaluate(
    ([least, apart]) => {
      const faults: string[] = [];
      const { clientWidth: width, scrollWidth } = document.documentElement;
      if (scrollWidth > width) faults.push(`the page is ${scrollWidth} wide in ${width}`);
      // While a sheet lies over the page, nothing under it can be pressed.
      const above = document.querySelector('dialog[open]') ?? document;
      const pressed = [...above.querySelectorAll<HTMLElement>('button, .controls a, .choice a, input')];
      const boxes = pressed
        .filter((element) => element.checkVisibility({ opacityProperty: true }))
        .map((element) => ({ name: element.innerText.replaceAll(/\s+/g, ' '), box: element.getBoundingClientRect() }));
      for (const { name, box } of boxes) {
        if (box.height < least - 0.5 || box.width < least - 0.5)
          faults.push(`${name} is ${box.width} by ${box.height}`);
        if (box.left < 0 || box.right > width + 0.5) faults.push(`${name} leaves the page`);
      }
      boxes.forEach(({ name, box }, i) => {
        for (const other of boxes.slice(i + 1)) {
          const dx = Math.max(other.box.left - box.right, box.left - other.box.right);
          const dy = Math.max(other.box.top - box.bottom, box.top - other.box.bottom);
          if (Math.max(dx, dy) < apart - 0.5) faults.push(`${name} and ${other.name} are ${Math.max(dx, dy)} apart`);
        }
      });
      const [road, foot] = ['.road', '.foot'].map((part) => document.querySelector(part)?.getBoundingClientRect());
      if (road !== undefined && foot !== undefined && road.height > 0 && road.bottom > foot.top + 1)
        faults.push(`the foot covers ${Math.round(road.bottom - foot.top)} px of the road`);
      for (const word of document.querySelectorAll<HTMLElement>('.run .controls > .button-solid .button-word'))
        if (word.clientHeight > 2 * parseFloat(getComputedStyle(word).fontSize))
          faults.push(`“${word.innerText}” breaks over two lines`);
      // A tablet has room for others beside it; a run's own controls stand in one row.
      for (const row of width < 600 ? [] : document.querySelectorAll('main:not(.run, .alarm) .controls')) {
        const buttons = [...row.querySelectorAll(':scope > .button')];
        const fills = buttons.filter((one) => one.clientWidth > 0.8 * row.clientWidth);
        if (buttons.length > 1) fills.forEach((one) => faults.push(`${one.textContent} fills its row alone`));
      }
      const controls = document.querySelector('.controls')?.getBoundingClientRect();
      for (const text of document.querySelectorAll('.left p')) {
        const box = text.getBoundingClientRect();
        if (controls === undefined || controls.height === 0 || !text.checkVisibility()) continue;
        // In the far view they stand beside the words.
        if (box.bottom > controls.top + 1 && box.right > controls.left) {
          faults.push(`“${text.textContent}” reaches under the controls`);
        }
      }
      return faults;
    },
    [leastPx, apartPx] as const,
  );
}
