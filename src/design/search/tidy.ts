/** A sequence of layers before its merit is known. */
export interface Sketch {
  readonly materials: readonly number[];
  readonly thicknessNm: Float64Array;
}

/** The same stack with empty layers dropped and neighbours of one material merged. */
export function tidy({ materials, thicknessNm }: Sketch): Sketch {
  const kept: number[] = [];
  const thickness: number[] = [];
  materials.forEach((material, layer) => {
    const nm = thicknessNm[layer]!;
    if (!(nm > 0)) return;
    if (kept.at(-1) === material) thickness[thickness.length - 1]! += nm;
    else {
      kept.push(material);
      thickness.push(nm);
    }
  });
  return { materials: kept, thicknessNm: Float64Array.from(thickness) };
}

/** The stack without one layer, neighbours merged where they are then equal. */
export function withoutLayer({ materials, thicknessNm }: Sketch, layer: number): Sketch {
  return tidy({
    materials: materials.filter((_, place) => place !== layer),
    thicknessNm: thicknessNm.filter((_, place) => place !== layer),
  });
}

/** The stack with a layer of `material` put into layer `host` at `share` (0..1) of its thickness from below. */
export function withInsertion(
  { materials, thicknessNm }: Sketch,
  host: number,
  share: number,
  material: number,
  nm: number,
): Sketch {
  const own = thicknessNm[host]!;
  return tidy({
    materials: [...materials.slice(0, host + 1), material, ...materials.slice(host)],
    thicknessNm: Float64Array.of(
      ...thicknessNm.subarray(0, host),
      share * own,
      nm,
      (1 - share) * own,
      ...thicknessNm.subarray(host + 1),
    ),
  });
}

/** How many different materials the stack takes. */
export function materialCount(materials: readonly number[]): number {
  return new Set(materials).size;
}

/** Whether two stacks have the same layers within 5 %, in the same order, but for those thinner than `negligibleNm`. */
export function isLike(one: Sketch, other: Sketch, negligibleNm: number): boolean {
  const [first, second] = [one, other].map(({ materials, thicknessNm }) =>
    tidy({ materials, thicknessNm: thicknessNm.map((nm) => (nm < negligibleNm ? 0 : nm)) }),
  );
  return (
    first!.materials.length === second!.materials.length &&
    first!.materials.every((material, layer) => material === second!.materials[layer]) &&
    first!.thicknessNm.every((nm, layer) => Math.abs(nm / second!.thicknessNm[layer]! - 1) < 0.05)
  );
}
