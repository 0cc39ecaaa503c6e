import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { InputError } from '../../../base/errors.ts';
import type { CalendarSettings } from '../../../batch/document.ts';
import { type Desk, flagField } from '../../fields/fields.ts';

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

/** Minutes from midnight as a clock has them; the day's end is its midnight. */
function clockText(minutes: number): string {
  const two = (value: number) => String(value).padStart(2, '0');
  return `${two(Math.floor(minutes / 60) % 24)}:${two(minutes % 60)}`;
}

const DAY_MIN = 1440;

/** Why the shifts have no plan, with times as a clock has them. */
function faultWords({ path, reason }: InputError, { shifts }: CalendarSettings): string {
  const index = Number(/^calendar\.shifts\[(\d+)\]\.toMin/.exec(path)?.[1] ?? Number.NaN);
  const shift = shifts[index];
  if (shift === undefined) return `${reason}.`;
  return `Shift ${index + 1} ends at ${clockText(shift.toMin)}, which is not after its beginning at ${clockText(shift.fromMin)}; a shift over midnight is written as two, one until 24:00 and one from 00:00.`;
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
      const text = (event.target as HTMLInputElement).value;
      const [hours = Number.NaN, minutes = Number.NaN] = text.split(':').map(Number);
      // Midnight ends a day as well as it begins one.
      const value = hours * 60 + minutes || (end === 'toMin' ? DAY_MIN : 0);
      if (text === '' || !Number.isFinite(hours * 60 + minutes)) {
        bench.refuse(
          'calendar.shifts',
          `Shift ${index + 1} ${label}: "${text}" is no time of day from 00:00 to 24:00.`,
        );
        return;
      }
      change(
        `Shift ${index + 1} ${label} ${clockText(value)}`,
        (draft) => {
          draft.shifts[index]![end] = value;
        },
        'calendar.shifts',
      );
    };
    return html`<div class="field"><label for=${id}>Shift ${index + 1} ${label}</label><input id=${id} type="time" .value=${live(clockText(calendar.shifts[index]![end]))} @change=${onChange} /></div>`;
  };
  const onDay = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    if (value === '')
      bench.refuse('calendar.firstDay', 'The first day is left as it was: a whole date is needed.');
    else
      change(
        `First day ${value}`,
        (draft) => {
          draft.firstDay = value;
        },
        'calendar.firstDay',
      );
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
      ${WEEKDAYS.map((name, index) => html`<button class="quiet" aria-pressed=${calendar.weekdays.includes(index + 1)} @click=${() => toggle(index + 1)}>${name.slice(0, 3)}</button>`)}
      ${flagField(desk, ['calendar', 'aloneOutsideShifts'], 'The machine may work alone outside the shifts')}
    </div>
    ${['firstDay', 'shifts', 'weekdays'].map((name) => {
      const refusal = state.refusals.get(`calendar.${name}`);
      return refusal === undefined ? nothing : html`<p class="said" role="status">${refusal}</p>`;
    })}
    ${fault?.path.startsWith('calendar') ? html`<p class="said" role="status">${faultWords(fault, calendar)}</p>` : nothing}
  `;
}
