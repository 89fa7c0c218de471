/** What is wrong with a page as it stands in the browser for fingers and eyes, in words. */
import type { Page } from 'playwright-core';

/** Whether it is wider than its screen; none is right. */
export function widthFaults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { clientWidth: width, scrollWidth } = document.documentElement;
    return scrollWidth > width ? [`the page is ${scrollWidth} wide in ${width}`] : [];
  });
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
