import type { Layer } from '../../batch/document.ts';
import type { IndexSpec } from '../../materials/index-spec.ts';

/** What of a layer the tasks know. */
export type PlainLayer = Pick<Layer, 'material' | 'thicknessNm' | 'grading'>;

/** Layers as a task's request takes them; `spec` says what stands for a material in it. */
export function taskLayers(layers: readonly PlainLayer[], spec: (id: string) => IndexSpec = (id) => id) {
  return layers.map(({ material, thicknessNm, grading }) => ({
    material: spec(material),
    thicknessNm,
    ...(grading && { grading }),
  }));
}
