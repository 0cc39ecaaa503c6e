import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/run-timeline/cw-run-timeline.ts';
import type { RunTimelineElement } from '../../src/elements/run-timeline/run-timeline-element.ts';
import {
  durationText,
  timelineEndS,
  timelineLanes,
  timeMarksS,
  timeText,
} from '../../src/elements/run-timeline/timeline-layout.ts';
import { drawn, expectAccessible, press, stage, within } from './support/stage.ts';

const steps = [
  { id: 'load', label: 'Load', kind: 'load', startS: 0, durationS: 1200 },
  { id: 'pump', label: 'Pump', kind: 'pump', startS: 1200, durationS: 2400 },
  { id: 'film', label: '1 MgF₂', kind: 'deposit', startS: 3600, durationS: 300 },
  { id: 'heat', label: 'Heat', kind: 'heat', startS: 1200, durationS: 1800, slackS: 600 },
  { id: 'pray', label: 'Wait for the courier', kind: 'other', startS: 3900, durationS: 60 },
];

describe('a timeline', () => {
  it('sorts steps into lanes of what is busy and leaves none out', () => {
    const lanes = timelineLanes(steps);
    expect(lanes.map((lane) => lane.name)).toEqual(['Hands', 'Vacuum', 'Heat', 'Film', 'Others']);
    expect(lanes.flatMap((lane) => lane.steps).length).toBe(steps.length);
    const runs = [{ ...steps[0]!, lane: 'Night shift' }, steps[1]!];
    expect(timelineLanes(runs).map((lane) => lane.name)).toEqual(['Night shift', 'Vacuum']);
    expect(timelineEndS(steps)).toBe(3960);
    expect(timelineEndS([])).toBe(0);
  });

  it.each([
    [0.5, '0.5 s'],
    [45, '45 s'],
    [750, '12 min 30 s'],
    [1200, '20 min'],
    [3599.7, '1 h 00 min'],
    [11040, '3 h 04 min'],
  ])('says %d s as %s', (seconds, text) => {
    expect(durationText(seconds)).toBe(text);
  });

  it('marks whole minutes or hours, from the start or by the clock', () => {
    expect(timeMarksS(3960)).toEqual([0, 600, 1200, 1800, 2400, 3000, 3600]);
    expect(timeMarksS(0)).toEqual([0]);
    expect(timeMarksS(7 * 86_400, 7).at(-1)).toBe(7 * 86_400);
    expect([timeText(3900), timeText(3900, 23 * 3600)]).toEqual(['1:05', 'day 2, 00:05']);
  });
});

describe('cw-run-timeline', () => {
  let timeline: RunTimelineElement;
  const readout = () => within(timeline, '.readout').textContent;
  const lanes = () => within(timeline, '.lanes');

  beforeEach(async () => {
    timeline = await stage('cw-run-timeline', { steps, critical: ['load', 'pump', 'film'], nowS: 2000 });
  });

  it('is accessible in every theme', async () => {
    await expectAccessible(timeline);
  });

  it('draws steps to scale and marks those that decide the total', () => {
    const bars = [...timeline.shadowRoot!.querySelectorAll<HTMLElement>('.bar')];
    const width = (id: string) =>
      bars.find((bar) => bar.textContent?.includes(id))!.getBoundingClientRect().width;
    expect(width('Pump') / width('Load')).toBeCloseTo(2, 1);
    expect(bars.filter((bar) => bar.classList.contains('critical')).length).toBe(3);
  });

  it('reads out the whole, then step by step in order of time', async () => {
    expect(readout()).toBe('5 steps, 1 h 06 min in all');
    press(lanes(), 'ArrowRight');
    press(lanes(), 'ArrowRight');
    await drawn(timeline);
    expect(readout()).toBe('2 of 5: Pump, 40 min, 0:20 to 1:00, decides the total');
    press(lanes(), 'ArrowRight');
    await drawn(timeline);
    expect(readout()).toBe('3 of 5: Heat, 30 min, 0:20 to 0:50, can take 10 min longer');
    expect(lanes().getAttribute('aria-activedescendant')).toBe('step-2');
    timeline.clockS = 7.5 * 3600;
    await drawn(timeline);
    expect(readout()).toContain('07:50 to 08:20');
  });

  it('fires when a step is picked by key or click', () => {
    const heard: string[] = [];
    timeline.addEventListener('cw-step-select', (event) => heard.push(event.stepId));
    press(lanes(), 'End');
    press(lanes(), 'Enter');
    timeline.shadowRoot!.querySelector<HTMLElement>('.bar.deposit')!.click();
    expect(heard).toEqual(['pray', 'film']);
  });

  it('stands without steps', async () => {
    timeline.steps = [];
    await drawn(timeline);
    expect(readout()).toBe('No step yet.');
    press(lanes(), 'ArrowRight');
    press(lanes(), 'Enter');
  });
});
