import type { Batch, Side, Surface } from '../../../batch/document.ts';
import { type Requirement, usualSense } from '../../../design/requirement.ts';
import type { RequirementTemplate } from '../../../design/requirement-templates.ts';
import type { BatchChange } from '../../bench.ts';

/** A surface of a draft, where that side has one of its own. */
export function surfaceOf(draft: Batch, side: Side): Surface | undefined {
  const { front, back } = draft.surfaces;
  if (side === 'front') return front;
  return typeof back === 'object' ? back : undefined;
}

const USUAL: Requirement = {
  quantity: 'R',
  statistic: 'mean',
  limit: 0.5,
  sense: 'below',
  bandNm: [430, 670],
  incidenceDeg: [0],
  polarization: 'mean',
  weight: 1,
};

/** One more requirement, like the last one where there is one. */
export function addRequirement(side: Side): BatchChange {
  return {
    name: `One more requirement on the ${side}`,
    recipe: (draft) => {
      const surface = surfaceOf(draft, side);
      surface?.requirements.push(structuredClone(plain(surface.requirements.at(-1) ?? USUAL)));
    },
  };
}

export function removeRequirement(side: Side, index: number): BatchChange {
  return {
    name: `Requirement ${index + 1} of the ${side} removed`,
    recipe: (draft) => void surfaceOf(draft, side)?.requirements.splice(index, 1),
  };
}

/** A template's requirements in place of those that stand. */
export function useTemplate(side: Side, template: RequirementTemplate): BatchChange {
  return {
    name: `Requirements of the ${side}: ${template.name}`,
    recipe: (draft) => {
      const surface = surfaceOf(draft, side);
      if (surface !== undefined)
        surface.requirements = structuredClone(plain(template.requirements)) as Requirement[];
    },
  };
}

/** Another quantity takes its usual sense with it. */
export function setQuantity(side: Side, index: number, quantity: Requirement['quantity']): BatchChange {
  return {
    name: `Requirement ${index + 1} of the ${side}: ${quantity}`,
    recipe: (draft) => {
      const surface = surfaceOf(draft, side);
      const old = surface?.requirements[index];
      if (surface === undefined || old === undefined) return;
      surface.requirements[index] = { ...plain(old), quantity, sense: usualSense(quantity) };
    },
  };
}

/**
 * How the back is coated: as the front, not at all, or by a coating of its own, which starts as a copy of the front's
 * and is monitored like it.
 */
export function setBack(choice: 'same' | 'uncoated' | 'own'): BatchChange {
  const words = { same: 'as the front', uncoated: 'not coated', own: 'a coating of its own' };
  return {
    name: `Back: ${words[choice]}`,
    recipe: (draft) => {
      if (choice !== 'own') {
        draft.surfaces.back = choice;
        return;
      }
      if (typeof draft.surfaces.back === 'object') return;
      const copy = structuredClone(plain(draft.surfaces.front)) as Surface;
      const taken = new Set(copy.layers.map(({ id }) => id));
      copy.layers = copy.layers.map((layer, index) => {
        const id = freeLayerId('b', index + 1, taken);
        const watched = draft.monitor.layers[layer.id];
        if (watched !== undefined) draft.monitor.layers[id] = plain(watched);
        return { ...layer, id };
      });
      draft.surfaces.back = copy;
    },
  };
}

/** A layer's name that no other has: "f3", "b1", … `taken` gets it too. */
export function freeLayerId(stem: 'f' | 'b', from: number, taken: Set<string>): string {
  let number = from;
  while (taken.has(`${stem}${number}`)) number += 1;
  taken.add(`${stem}${number}`);
  return `${stem}${number}`;
}

/** A value of a draft as plain data. */
export function plain<Value>(value: Value): Value {
  return JSON.parse(JSON.stringify(value)) as Value;
}
