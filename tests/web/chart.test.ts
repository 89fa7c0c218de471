/** The chart stays driven the cheap way: each switch below has once been the reason for a page that locked up. */
import { describe, expect, it } from 'vitest';
import { chartConfiguration } from '../../web/chart.ts';

const { options } = chartConfiguration({ id: 'road' });

describe('the chart', () => {
  it('is handed its points ready-made and in order', () => {
    expect(options).toMatchObject({ parsing: false, normalized: true });
  });

  it('moves by itself in no way', () => {
    expect(options).toMatchObject({ animation: false, responsive: false, maintainAspectRatio: false, events: [] });
  });

  it('has linear axes with ends of its own choosing, drawn by nobody', () => {
    const axis = { type: 'linear', display: false, min: 0, max: 1 };
    expect(options?.scales).toMatchObject({ x: axis, y: axis });
  });

  it('joins nothing across a gap and draws no curve of its own between points', () => {
    expect(options).toMatchObject({ spanGaps: false, elements: { line: { tension: 0 }, point: { radius: 0 } } });
  });
});
