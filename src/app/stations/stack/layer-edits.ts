import { fixed } from '../../../base/format.ts';
import type { Batch, Layer, Side } from '../../../batch/document.ts';
import type { BatchChange } from '../../bench.ts';
import { changeName } from '../../fields/change-name.ts';
import { labelOf } from '../material-words.ts';
import { freeLayerId, surfaceOf } from '../order/requirement-edits.ts';

/** Thickest layer that a batch holds. */
export const THICKEST_LAYER_NM = 20_000;

/** Most quarter waves of a film of index `n` that a batch holds: 200, or what its thickest layer comes to. */
export function mostQuarterWaves(n: number, referenceWavelengthNm: number): number {
  return Math.min(200, Math.floor((4000 * n * THICKEST_LAYER_NM) / referenceWavelengthNm) / 1000);
}

/** What a layer is called in the history: "Front layer 2". */
export function layerName(side: Side, index: number): string {
  return `${side === 'front' ? 'Front' : 'Back'} layer ${index + 1}`;
}

/** Another thickness for one layer; edits in a row of the same layer become one. */
export function setThickness(side: Side, index: number, thicknessNm: number): BatchChange {
  return {
    key: `surfaces.${side}.layers[${index}].thicknessNm`,
    name: (before) =>
      changeName(
        layerName(side, index),
        surfaceOf(before, side)?.layers[index]?.thicknessNm,
        thicknessNm,
        'nm',
      ),
    recipe: (draft) => {
      const layer = surfaceOf(draft, side)?.layers[index];
      if (layer !== undefined) layer.thicknessNm = thicknessNm;
    },
  };
}

/** Another material of even index at the same optical thickness, `indexRatio` being old index over new at the reference wavelength. */
export function setMaterial(side: Side, index: number, material: string, indexRatio: number): BatchChange {
  return {
    name: (before) => {
      const old = surfaceOf(before, side)?.layers[index]?.material ?? '';
      const graded = surfaceOf(before, side)?.layers[index]?.grading === undefined ? '' : ', of even index';
      return `${layerName(side, index)}: ${labelOf(old, before)} → ${labelOf(material, before)}, same optical thickness${graded}`;
    },
    recipe: (draft) => {
      const layer = surfaceOf(draft, side)?.layers[index];
      if (layer === undefined) return;
      layer.material = material;
      delete layer.grading; // it was how the other material grows
      layer.thicknessNm = roundNm(layer.thicknessNm * indexRatio);
    },
  };
}

/** One more layer on top of layer `after` (−1: on the glass). */
export function addLayer(side: Side, after: number, layer: Omit<Layer, 'id'>): BatchChange {
  return {
    name: (before) =>
      `${labelOf(layer.material, before)} ${fixed(layer.thicknessNm, 1)} nm put in as layer ${after + 2} of the ${side}`,
    recipe: (draft) => {
      const surface = surfaceOf(draft, side);
      surface?.layers.splice(after + 1, 0, { id: newLayerId(draft, side), ...layer });
    },
  };
}

export function removeLayer(side: Side, index: number): BatchChange {
  return {
    name: (before) =>
      `${layerName(side, index)} (${labelOf(surfaceOf(before, side)?.layers[index]?.material ?? '', before)}) removed`,
    recipe: (draft) => {
      const layers = surfaceOf(draft, side)?.layers;
      const [gone] = layers?.splice(index, 1) ?? [];
      if (gone !== undefined) delete draft.monitor.layers[gone.id];
    },
  };
}

/** Moves a layer by one place, `by` being 1 (away from the glass) or −1. */
export function moveLayer(side: Side, index: number, by: 1 | -1): BatchChange {
  return {
    name: `${layerName(side, index)} moved ${by === 1 ? 'away from the glass' : 'towards the glass'}`,
    recipe: (draft) => {
      const layers = surfaceOf(draft, side)?.layers;
      if (layers?.[index] === undefined || layers[index + by] === undefined) return;
      const [moved] = layers.splice(index, 1);
      layers.splice(index + by, 0, moved!);
    },
  };
}

/** Puts a layer with those that refining keeps equally thick, or with none. */
export function setGroup(side: Side, index: number, group: number | undefined): BatchChange {
  return {
    name: `${layerName(side, index)}: ${group === undefined ? 'thickness of its own' : 'equally thick as others'}`,
    recipe: (draft) => {
      const layer = surfaceOf(draft, side)?.layers[index];
      if (layer === undefined) return;
      if (group === undefined) delete layer.group;
      else layer.group = group;
    },
  };
}

export function reverseLayers(side: Side): BatchChange {
  return {
    name: `Layers of the ${side} turned round`,
    recipe: (draft) => void surfaceOf(draft, side)?.layers.reverse(),
  };
}

/** All layers replaced, as by a suggestion; `name` says by what. */
export function setLayers(side: Side, layers: readonly Omit<Layer, 'id'>[], name: string): BatchChange {
  return {
    name,
    recipe: (draft) => {
      const surface = surfaceOf(draft, side);
      if (surface === undefined) return;
      const gone = surface.layers.map(({ id }) => id);
      surface.layers = [];
      for (const layer of layers)
        surface.layers.push({
          id: newLayerId(draft, side),
          ...layer,
          thicknessNm: roundNm(layer.thicknessNm),
        });
      const kept = new Set(surface.layers.map(({ id }) => id));
      for (const id of gone) if (!kept.has(id)) delete draft.monitor.layers[id];
    },
  };
}

/** Other thicknesses for all layers that are not held, as refinement gives them. */
export function setThicknesses(side: Side, thicknessesNm: readonly number[]): BatchChange {
  return {
    name: `Thicknesses of the ${side} refined`,
    recipe: (draft) => {
      surfaceOf(draft, side)?.layers.forEach((layer, index) => {
        const thicknessNm = thicknessesNm[index];
        if (thicknessNm !== undefined && layer.locked !== true) layer.thicknessNm = roundNm(thicknessNm);
      });
    },
  };
}

function newLayerId({ surfaces }: Batch, side: Side): string {
  const back = typeof surfaces.back === 'object' ? surfaces.back.layers : [];
  const taken = new Set([...surfaces.front.layers, ...back].map(({ id }) => id));
  return freeLayerId(side === 'front' ? 'f' : 'b', 1, taken);
}

/** A thickness as one writes it: a hundredth of a nanometre is far below what any machine can do. */
function roundNm(thicknessNm: number): number {
  return Math.round(100 * thicknessNm) / 100;
}
