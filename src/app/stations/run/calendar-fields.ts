import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { CalendarSettings } from '../../../batch/document.ts';
import { type Desk, flagField } from '../../fields/fields.ts';

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

/** Minutes from midnight as a clock has them; the day's end is written as its last minute. */
function clockText(minutes: number): string {
  const shown = Math.min(minutes, 1439);
  return `${String(Math.floor(shown / 60)).padStart(2, '0')}:${String(shown % 60).padStart(2, '0')}`;
}

/** First day, shifts and working days of the lot. */
export function calendarFields(desk: Desk): TemplateResult {
  const { bench, state } = desk;
  const { calendar } = state.batch;
  if (calendar === undefined) {
    const begin = () =>
      bench.edit({
        name: 'Calendar taken up',
        recipe: (draft) => {
          draft.calendar = {
            firstDay: new Date().toISOString().slice(0, 10),
            shifts: [{ fromMin: 360, toMin: 1320 }],
            weekdays: [1, 2, 3, 4, 5],
            aloneOutsideShifts: false,
          };
        },
      });
    return html`<div><button @click=${begin}>Plan the lot over shifts</button></div>`;
  }
  const change = (name: string, recipe: (draft: CalendarSettings) => void, key?: string) =>
    bench.edit({
      name,
      ...(key === undefined ? {} : { key }),
      recipe: (draft) => {
        if (draft.calendar !== undefined) recipe(draft.calendar);
      },
    });
  const time = (index: number, end: 'fromMin' | 'toMin', label: string) => {
    const id = `shift-${index}-${end}`;
    const onChange = (event: Event) => {
      const [hours = Number.NaN, minutes = Number.NaN] = (event.target as HTMLInputElement).value
        .split(':')
        .map(Number);
      const value = hours * 60 + minutes;
      if (!Number.isFinite(value)) return;
      change(`Shift ${index + 1} ${label} ${clockText(value)}`, (draft) => {
        draft.shifts[index]![end] = value;
      });
    };
    return html`<div class="field"><label for=${id}>Shift ${index + 1} ${label}</label><input id=${id} type="time" .value=${live(clockText(calendar.shifts[index]![end]))} @change=${onChange} /></div>`;
  };
  const onDay = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    if (value !== '')
      change(`First day ${value}`, (draft) => {
        draft.firstDay = value;
      });
  };
  const toggle = (day: number) =>
    change(
      `${WEEKDAYS[day - 1]}: ${calendar.weekdays.includes(day) ? 'no work' : 'work'}`,
      (draft) => {
        draft.weekdays = draft.weekdays.includes(day)
          ? draft.weekdays.filter((other) => other !== day)
          : [...draft.weekdays, day].sort((a, b) => a - b);
      },
      'calendar.weekdays',
    );
  const { fault } = state.outcome;
  return html`
    <div class="fields">
      <div class="field"><label for="first-day">First day</label><input id="first-day" type="date" .value=${live(calendar.firstDay)} @change=${onDay} /></div>
      ${calendar.shifts.map((_, index) => html`${time(index, 'fromMin', 'from')}${time(index, 'toMin', 'to')}`)}
      ${calendar.shifts.length < 3 ? html`<button class="quiet" @click=${() => change('A shift more', (draft) => void draft.shifts.push({ fromMin: 0, toMin: 360 }))}>Another shift</button>` : nothing}
      ${calendar.shifts.length > 1 ? html`<button class="quiet" @click=${() => change('A shift less', (draft) => void draft.shifts.pop())}>One shift less</button>` : nothing}
    </div>
    <div class="row" role="group" aria-label="Working days">
      ${WEEKDAYS.map((name, index) => html`<button class="quiet" aria-label=${name} aria-pressed=${calendar.weekdays.includes(index + 1)} @click=${() => toggle(index + 1)}>${name.slice(0, 3)}</button>`)}
      ${flagField(desk, ['calendar', 'aloneOutsideShifts'], 'The machine may work alone outside the shifts')}
    </div>
    ${state.refusals.get('calendar.weekdays') === undefined ? nothing : html`<p class="said" role="status">${state.refusals.get('calendar.weekdays')}</p>`}
    ${fault?.path.startsWith('calendar') ? html`<p class="said" role="status">${fault.reason}.</p>` : nothing}
  `;
}
