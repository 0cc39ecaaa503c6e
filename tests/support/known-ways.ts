import { dayText } from '../../src/base/day-text.ts';
import { duration, fixed } from '../../src/base/format.ts';
import { tryWay } from '../../src/batch/plan/ways.ts';
import type { Computed, Known } from './known-figures.ts';

/** The other ways to run the lot that the Run station tries unasked. */
export function ofWays({ batch, plan }: Computed): Known[] {
  const racks = Math.max(1, batch.fixture.racks - 1);
  const rackDiameterMm = Math.round(1.1 * batch.fixture.rackDiameterMm);
  const [rates, pumps] = [1.25, 1.5];
  const ways = [
    ['All rates at 125 %', { rates }],
    ['All pumps at 150 % of their speed', { pumps }],
    [`${racks} ${racks === 1 ? 'rack' : 'racks'}`, { racks }],
    [`Racks of ${rackDiameterMm} mm`, { rackDiameterMm }],
    ['All together', { rates, pumps, racks, rackDiameterMm }],
  ] as const;
  const { lot } = plan;
  const endText = (time: string) => `${dayText(time)}, ${time.slice(11)}`;
  const planned = lot.calendar?.at(-1)?.ends;
  return [
    ['As planned | Runs', String(lot.runs)],
    ['As planned | A run', duration(Math.max(...plan.runs.map(({ totalS }) => totalS)))],
    ['As planned | Lot', duration(lot.totalS)],
    ...(planned === undefined ? [] : [['As planned | Done on the shifts', endText(planned)] as const]),
    ...ways.flatMap(([name, trial]): Known[] => {
      const way = tryWay(batch, plan, trial);
      if (typeof way === 'string')
        return [
          [`${name} | If`, name],
          [`${name} | Runs`, `no plan: ${way}`],
        ];
      const row = [name, ...way.warnings].join(' ');
      return [
        [`${row} | If`, row],
        [`${row} | Runs`, String(way.runs)],
        [`${row} | A run`, duration(way.perRunS)],
        [`${row} | Lot`, duration(way.totalS)],
        [`${row} | Hours saved`, `${fixed(way.savedH, 1)} h`],
        ...(way.endsEarlierH === undefined
          ? []
          : [
              [`${row} | Done on the shifts`, endText(way.ends!)] as const,
              [`${row} | Earlier by`, `${fixed(way.endsEarlierH, 1)} h`] as const,
            ]),
      ];
    }),
  ];
}
