import { equivalentPeriods } from './closed-forms/equivalent-period.ts';
import { fourLayerThinPair } from './closed-forms/four-layer.ts';
import { innerIndexWanted, quarterHalfQuarter } from './closed-forms/quarter-half-quarter.ts';
import { quarterWaveNm, quarterWaveReflectance } from './closed-forms/quarter-wave.ts';
import { twoLayerZeros } from './closed-forms/two-layer-zero.ts';
import type { PoolMaterial } from './design-problem.ts';

/** A layer of a starting stack, in the order of deposition. */
export interface StartingLayer {
  readonly material: string;
  readonly thicknessNm: number;
}

/** A stack from a closed form. */
export interface StartingStack {
  readonly kind:
    | 'quarter-wave'
    | 'two-layer-zero'
    | 'quarter-half-quarter'
    | 'equivalent-period'
    | 'four-layer-thin-pair';
  /** What it is, in a short line. */
  readonly name: string;
  /** Which of several solutions: "zero 1 of 2". */
  readonly solution?: string;
  /** Where the closed form comes from. */
  readonly source: string;
  readonly layers: readonly StartingLayer[];
}

/** Media around the stack and the wavelength (nm, in vacuum) at which the closed forms hold. */
export interface StartingPlace {
  readonly incidentIndex: number;
  readonly substrateIndex: number;
  readonly wavelengthNm: number;
}

interface Film {
  readonly id: string;
  readonly n: number;
}

/**
 * All starting stacks that the closed forms give with the materials at hand, at normal incidence: the quarter wave of
 * the best material, every two-layer zero, quarter-half-quarter of the best three, the same with its inner
 * index made as an equivalent period of two materials, and four layers with a thin inner pair. Absorption
 * is left aside. None is empty; the list can be.
 */
export function startingStacks(pool: readonly PoolMaterial[], place: StartingPlace): StartingStack[] {
  const at = Float64Array.of(place.wavelengthNm);
  const films = pool
    .map(({ id, index }): Film => ({ id, n: index(at).n[0]! }))
    .filter(({ n }) => n >= 1 && n <= 10)
    .sort((one, other) => one.n - other.n || (one.id < other.id ? -1 : 1));
  if (films.length === 0 || place.substrateIndex < 1 || place.incidentIndex < 1) return [];
  return [
    ...quarterWaves(films, place),
    ...twoLayers(films, place),
    ...threeLayers(films, place),
    ...equivalents(films, place),
    ...fourLayers(films, place),
  ];
}

function quarterWaves(films: readonly Film[], place: StartingPlace): StartingStack[] {
  const { incidentIndex, substrateIndex, wavelengthNm } = place;
  const left = ({ n }: Film) => quarterWaveReflectance(n, incidentIndex, substrateIndex);
  const best = films.reduce((one, other) => (left(other) < left(one) ? other : one));
  return [
    {
      kind: 'quarter-wave',
      name: `Quarter wave of ${best.id}`,
      source: 'Born & Wolf, Principles of Optics, sec. 1.6.4',
      layers: [{ material: best.id, thicknessNm: quarterWaveNm(best.n, wavelengthNm) }],
    },
  ];
}

function twoLayers(films: readonly Film[], place: StartingPlace): StartingStack[] {
  const found: StartingStack[] = [];
  for (const outer of films)
    for (const inner of films) {
      if (outer === inner) continue;
      const zeros = twoLayerZeros(
        { incident: place.incidentIndex, outer: outer.n, inner: inner.n, substrate: place.substrateIndex },
        place.wavelengthNm,
      );
      zeros.forEach(({ innerNm, outerNm }, number) => {
        const solution = `zero ${number + 1} of ${zeros.length}`;
        found.push({
          kind: 'two-layer-zero',
          name: `Two layers, ${inner.id} under ${outer.id}, ${solution}`,
          solution,
          source: 'Catalan 1962; Macleod, Thin-Film Optical Filters, sec. 3.2 (from memory)',
          layers: [
            { material: inner.id, thicknessNm: innerNm },
            { material: outer.id, thicknessNm: outerNm },
          ],
        });
      });
    }
  return found;
}

/** The films of quarter-half-quarter: lowest outside, highest in the middle, nearest to the wanted index inside. */
function threeFilms(films: readonly Film[], { incidentIndex, substrateIndex }: StartingPlace) {
  const outer = films[0]!;
  const middle = films.at(-1)!;
  const wanted = innerIndexWanted(outer.n, incidentIndex, substrateIndex);
  const inner = films.reduce((one, other) =>
    Math.abs(other.n - wanted) < Math.abs(one.n - wanted) ? other : one,
  );
  return { outer, middle, inner, wanted };
}

function threeLayers(films: readonly Film[], place: StartingPlace): StartingStack[] {
  const { outer, middle, inner } = threeFilms(films, place);
  if (new Set([outer, middle, inner]).size < 3) return [];
  const thicknesses = quarterHalfQuarter(
    { inner: inner.n, middle: middle.n, outer: outer.n },
    place.wavelengthNm,
  );
  return [
    {
      kind: 'quarter-half-quarter',
      name: `Quarter-half-quarter of ${inner.id}, ${middle.id} and ${outer.id}`,
      source: 'Cox, Hass & Thelen 1962',
      layers: [inner, middle, outer].map(({ id }, layer) => ({
        material: id,
        thicknessNm: thicknesses[layer]!,
      })),
    },
  ];
}

function equivalents(films: readonly Film[], place: StartingPlace): StartingStack[] {
  const { outer, middle, wanted } = threeFilms(films, place);
  if (outer === middle || wanted <= outer.n || wanted >= middle.n) return [];
  const [period] = equivalentPeriods({
    outerIndex: outer.n,
    middleIndex: middle.n,
    targetIndex: wanted,
    wavelengthNm: place.wavelengthNm,
  });
  if (period === undefined) return [];
  return [
    {
      kind: 'equivalent-period',
      name: `Quarter-half-quarter, its inner index made of ${outer.id} and ${middle.id}`,
      source: 'Herpin 1947; Epstein 1952; Cox, Hass & Thelen 1962',
      layers: [
        { material: outer.id, thicknessNm: period.outerNm },
        { material: middle.id, thicknessNm: period.middleNm },
        { material: outer.id, thicknessNm: period.outerNm },
        { material: middle.id, thicknessNm: quarterWaveNm(middle.n, place.wavelengthNm, 2) },
        { material: outer.id, thicknessNm: quarterWaveNm(outer.n, place.wavelengthNm) },
      ],
    },
  ];
}

function fourLayers(films: readonly Film[], place: StartingPlace): StartingStack[] {
  const low = films[0]!;
  return films.slice(1).flatMap((high) =>
    fourLayerThinPair(
      {
        incident: place.incidentIndex,
        low: low.n,
        high: high.n,
        substrate: place.substrateIndex,
      },
      place.wavelengthNm,
    )
      .slice(0, 1)
      .map(
        (thicknesses): StartingStack => ({
          kind: 'four-layer-thin-pair',
          name: `Four layers of ${high.id} and ${low.id} with a thin inner pair`,
          source: 'Vermeulen 1971; Macleod, Thin-Film Optical Filters, sec. 3.4 (from memory)',
          layers: thicknesses.map((thicknessNm, layer) => ({
            material: layer % 2 === 0 ? high.id : low.id,
            thicknessNm,
          })),
        }),
      ),
  );
}
