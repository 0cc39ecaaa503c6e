import { readFileSync } from 'node:fs';
import { AsBuiltModel } from '../../src/inspect/as-built-model.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { Random } from '../../src/math/random.ts';

/** What an instrument would write of the demo's front with ZrO2 2 % thicker than aimed at and 0.1 % noise. */
export function thickZirconia(): string {
  const demo = JSON.parse(
    readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'),
  ) as {
    order: { lens: { substrate: string } };
    process: { aimPercent?: number };
    surfaces: { front: { layers: { material: string; thicknessNm: number }[] } };
  };
  const { layers } = demo.surfaces.front;
  const aim = 1 + (demo.process.aimPercent ?? 0) / 100;
  const wavelengthNm = Float64Array.from({ length: 181 }, (_, place) => 400 + 2 * place);
  const off = layers.flatMap(({ material }, place) => (material === 'zro2' ? [place] : []));
  const values = new Float64Array(wavelengthNm.length);
  const model = new AsBuiltModel(
    {
      stack: {
        wavelengthNm,
        incident: resolveIndex(1, wavelengthNm),
        layers: layers.map(({ material }) => resolveIndex(material, wavelengthNm)),
        substrate: resolveIndex(demo.order.lens.substrate, wavelengthNm),
      },
      thicknessNm: Float64Array.from(layers, ({ thicknessNm }) => aim * thicknessNm),
      quantity: 'R',
      incidenceRad: 0,
      polarization: 'mean',
      values: values.slice(),
    },
    [{ kind: 'thickness', layers: off }],
  );
  model.values(Float64Array.of(1.02), values);
  const random = new Random(20261125);
  const lines = Array.from(
    wavelengthNm,
    (nm, place) => `${nm};${(100 * (values[place]! + 0.001 * random.normal())).toFixed(4)}`,
  );
  return ['Wavelength / nm;R / %', ...lines].join('\n');
}
