import type { CalendarEntry } from '../../chamber/calendar.ts';
import type { LotCost } from '../../chamber/cost.ts';
import type { FilledRack } from '../../chamber/fill-load.ts';
import type { Motion } from '../../chamber/motion.ts';
import type { LayerGrading } from '../../materials/grading.ts';
import type { CutRule } from '../../monitor/cut-rule.ts';
import type { Side } from '../document.ts';
import type { HolderPlan } from './holder-plan.ts';
import type { LotCosting } from './lot-cost.ts';

/**
 * What the chain computes from a batch. Everything here follows from the batch alone and is never stored.
 * Fractions for R, T, A; percent only where a name ends in Percent; units end the names.
 */
export interface Plan {
  /** The coated sides, front first. */
  readonly surfaces: readonly SurfacePlan[];
  readonly load: LoadPlan;
  /** One run for each coated side: all loads of a side are alike. */
  readonly runs: readonly RunPlan[];
  readonly lot: LotPlan;
  /** How the film spreads over rack and lens, one for each coated side. */
  readonly distributions: readonly DistributionPlan[];
  readonly cautions: readonly string[];
  /** Sentences about what is doubtful: a material outside its data, a crystal past its life, and the like. */
  readonly warnings: readonly string[];
}

export interface LayerPlan {
  readonly id: string;
  readonly material: string;
  /** The material's name as people write it, such as MgF2. */
  readonly label: string;
  readonly thicknessNm: number;
  readonly locked: boolean;
  /** How the index changes through the layer; left out: not at all. */
  readonly grading?: LayerGrading;
  /** Refractive index at the surface's reference wavelength. */
  readonly referenceIndex: number;
  /** Optical thickness in quarter waves of the reference wavelength. */
  readonly quarterWaves: number;
  /** Whether the material's data covers the requirements' bands. */
  readonly inRange: boolean;
}

export interface RequirementVerdict {
  /** Such as "R mean ≤ 0.4 %, 430–670 nm, 0° and 25°". */
  readonly text: string;
  readonly valuePercent: number;
  readonly limitPercent: number;
  readonly sense: 'below' | 'above';
  readonly met: boolean;
  /** Distance to the limit in percent points, positive where met. */
  readonly marginPercent: number;
  readonly worstIncidenceDeg: number;
  readonly worstWavelengthNm: number;
}

export interface SpectrumCurves {
  readonly incidenceDeg: number;
  /** Of the coated surface alone, averaged over s and p and each by itself. */
  readonly mean: { readonly R: Float64Array; readonly T: Float64Array; readonly A: Float64Array };
  readonly s: { readonly R: Float64Array; readonly T: Float64Array; readonly A: Float64Array };
  readonly p: { readonly R: Float64Array; readonly T: Float64Array; readonly A: Float64Array };
}

export interface SurfacePlan {
  readonly side: Side;
  /** False for a back that is coated as the front. */
  readonly own: boolean;
  readonly substrateLabel: string;
  readonly layers: readonly LayerPlan[];
  readonly totalThicknessNm: number;
  readonly referenceWavelengthNm: number;
  readonly requirements: readonly RequirementVerdict[];
  readonly allMet: boolean;
  readonly wavelengthNm: Float64Array;
  readonly curves: readonly SpectrumCurves[];
  /** The bare glass at the first angle, for comparison. */
  readonly bare: Float64Array;
  /** Colour of what is still reflected under D65 at the first angle; `vivid` is the same brightened to be seen. */
  readonly residual: {
    readonly srgb: string;
    readonly vivid: string;
    readonly L: number;
    readonly a: number;
    readonly b: number;
  };
}

export interface Place {
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
  readonly use: 'lens' | 'witness';
}

export interface LoadPlan {
  /** How the racks move; a rack at rest, a turning one and a dome are one alone. */
  readonly motion: Motion;
  readonly rackDiameterMm: number;
  readonly lensDiameterMm: number;
  readonly holderDiameterMm: number;
  readonly holder: HolderPlan;
  readonly pattern: string;
  /** One rack's places; every rack is alike. */
  readonly places: readonly Place[];
  readonly lensesPerRack: number;
  readonly racks: number;
  readonly lensesPerLoad: number;
  readonly witnessesPerLoad: number;
  readonly usedPercent: number;
  /** How many such racks would fit on the carrier and into the chamber. */
  readonly racksThatFit: number;
  /** Further lots that share the carrier, in the order in which they follow the batch's own. */
  readonly otherLots: readonly OtherLotPlan[];
  /** Planet axes seen from the machine's axis. */
  readonly racksAt: readonly { readonly xMm: number; readonly yMm: number }[];
}

/** How a further lot stands on its racks; see `LoadPlan` for the batch's own. */
export interface OtherLotPlan {
  readonly lot: string;
  readonly quantity: number;
  readonly diameterMm: number;
  readonly holderDiameterMm: number;
  readonly pattern: string;
  readonly places: readonly Place[];
  readonly lensesPerRack: number;
}

/** Loads that stand alike, counted from 1, and what their racks hold; a rack of lot '' holds dummies alone. */
export interface LoadRow {
  readonly from: number;
  readonly to: number;
  readonly racks: readonly FilledRack[];
}

/** When one lot of those on the carrier is done. */
export interface LotDone {
  readonly lot: string;
  /** Loads, from 1, between which it goes in. */
  readonly firstLoad: number;
  readonly lastLoad: number;
  /** Machine time from the beginning of the first load until the last of its lenses is out, cleaning on the way included. */
  readonly doneS: number;
  /** The same on the shop's shifts; undefined where the batch holds none. */
  readonly doneAt?: string;
}

/** A course over a radius, mm; thickness over the thickness that is aimed at. */
export interface RadialCourse {
  readonly radiusMm: Float64Array;
  readonly relative: Float64Array;
}

/** How one material spreads. Relative thickness is over the mean of the lens places. */
export interface MaterialSpread {
  readonly material: string;
  readonly label: string;
  /** The (first) source that it comes from. */
  readonly source: string;
  /** All sources that it comes from at the same time, with their parts of the evaporated mass. */
  readonly shares: readonly { readonly source: string; readonly share: number }[];
  /** Of every place of the rack, in the order of the load's places. */
  readonly atPlaces: Float64Array;
  /** The same on every place of every further lot's racks. */
  readonly atOtherPlaces: readonly Float64Array[];
  /** From the rack's axis to its rim; on a rack at rest from rim to rim, radii positive on the source's side. */
  readonly rack: RadialCourse;
  /** Largest deviation of a lens place from the mean, percent. */
  readonly deviationPercent: number;
  /** Across the clear aperture along the rack's radius, positive outwards, over the lens's centre, on the middle place. */
  readonly lens: RadialCourse;
  /** Film at the edge of the clear aperture over that at the centre, less one, percent; where around the edge it is worst. */
  readonly edgePercent: number;
  /** Thickness on the witness over that on the mean lens, by geometry; undefined without a witness. */
  readonly witnessTooling?: number;
  /** Thickness on the crystal over that on the mean lens, by geometry; undefined where the crystal gets nothing. */
  readonly crystalTooling?: number;
  /** The batch's own factors, for comparison. */
  readonly ownWitnessTooling: number;
  readonly ownCrystalTooling: number;
  /** What shields do to it; undefined where none stands in its way. */
  readonly shade?: ShadePlan;
  /** Fraction of the evaporated mass per mm² on the mean lens place. */
  readonly perMassPerMm2: number;
}

/** A material's film with its shields against that without. */
export interface ShadePlan {
  /** Largest deviation of a lens place from the mean without shields, percent. */
  readonly bareDeviationPercent: number;
  /** What the shields keep from the mean lens place, percent. */
  readonly takenPercent: number;
  /** By these the shop's toolings change when shields come that were not there when they were measured. */
  readonly crystalFactor: number;
  readonly witnessFactor: number;
}

export interface DistributionPlan {
  readonly side: Side;
  readonly materials: readonly MaterialSpread[];
  /** Largest deviation of any material on any lens place, percent. */
  readonly deviationPercent: number;
  /** The worst material's `edgePercent`. */
  readonly edgePercent: number;
}

export interface StepPlan {
  readonly id: string;
  readonly label: string;
  readonly kind: string;
  readonly layerIndex?: number;
  readonly startS: number;
  readonly durationS: number;
  /** Whether the run takes longer when this step does. */
  readonly critical: boolean;
  /** What sets the duration, in words. */
  readonly limitedBy: string;
}

export interface ChargePlan {
  readonly material: string;
  readonly label: string;
  readonly source: string;
  readonly massG: number;
  /** Without the reserve. */
  readonly netMassG: number;
  readonly pockets: number;
  /** What one pocket of the source holds of it. */
  readonly pocketG: number;
  readonly tooling: number;
}

export interface CutPlan {
  readonly id: string;
  readonly label: string;
  readonly thicknessNm: number;
  readonly wavelengthNm: number;
  readonly signal: 'R' | 'T';
  readonly rule: CutRule;
  readonly newWitness: boolean;
  readonly startLevel: number;
  readonly endLevel: number;
  readonly turningPoints: readonly { readonly thicknessNm: number; readonly level: number }[];
  readonly swingPercent: number;
  readonly trace: { readonly thicknessNm: Float64Array; readonly level: Float64Array };
  readonly crystalThicknessNm: number;
  readonly crystalDropHz: number;
  readonly crystalLeftHz: number;
  /** A fresh crystal is turned in before this layer. */
  readonly freshCrystal: boolean;
  readonly timeS: number;
  readonly note: string;
}

/** One stage of the pump-down. */
export interface PumpPlan {
  readonly name: string;
  readonly durationS: number;
  /** Speed that is left at the chamber, after the line, when the stage begins and when it ends. */
  readonly speedsM3PerS: readonly [number, number];
}

export interface RunPlan {
  readonly side: Side;
  /** False for a back that is coated as the front. */
  readonly own: boolean;
  readonly steps: readonly StepPlan[];
  readonly totalS: number;
  readonly pumps: readonly PumpPlan[];
  /** Pressure from the start of pumping until the first layer may begin. */
  readonly pressure: { readonly timeS: Float64Array; readonly pressurePa: Float64Array };
  readonly charge: readonly ChargePlan[];
  readonly cuts: readonly CutPlan[];
}

export interface LotPlan {
  /** Lenses to start, reserve included. */
  readonly lensesToStart: number;
  readonly loads: number;
  readonly runs: number;
  /** What stands in every load, alike loads together; see `loadRows`. */
  readonly rows: readonly LoadRow[];
  /** Every lot on the carrier, the order's own first. */
  readonly lots: readonly LotDone[];
  /** Part of the racks in use that hold the order's own lenses: its part of the common cost. */
  readonly orderShare: number;
  /** Lenses of all lots in the last load, which may be part full. */
  readonly lensesInLastLoad: number;
  readonly totalS: number;
  readonly chargeG: number;
  /** Crystals that all runs take. */
  readonly crystals: number;
  readonly pockets: readonly PocketUse[];
  /** The runs on the shop's shifts; undefined where the batch holds none. */
  readonly calendar?: readonly CalendarEntry[];
  /** What the cost follows from, to be reckoned anew once the yield is known (`costLot`); undefined without prices. */
  readonly costing?: LotCosting;
  /** What the lot costs with the order's reserve as what is lost, part by part; undefined without prices. */
  readonly cost?: LotCost;
  readonly costPerLens?: number;
  readonly currency?: string;
}

/** One material's pockets over the whole lot. */
export interface PocketUse {
  readonly material: string;
  readonly label: string;
  readonly source: string;
  readonly pockets: number;
  readonly capacityG: number;
  /** What stays in the pockets so that the melt stays even. */
  readonly leastG: number;
  readonly perRunG: number;
  readonly totalG: number;
  /** Numbers of the lot's runs, from 1, before which the pockets are filled up. */
  readonly refillBeforeRun: readonly number[];
}

/** The heavier part of the chain: yield by virtual runs of each coated side, judged on every lens place. */
export interface YieldPlan {
  readonly surfaces: readonly SurfaceYield[];
  /** Share of lenses whose sides all meet their requirements at centre and edge. */
  readonly yield: number;
  readonly yield95: readonly [number, number];
}

export interface SurfaceYield {
  readonly side: Side;
  /** Share of lenses that meet this side's requirements at centre and edge, wherever they stand on the rack. */
  readonly yield: number;
  readonly yield95: readonly [number, number];
  /** Share of the virtual runs that meet them on the mean lens place, at the lens's centre: what monitoring alone loses. */
  readonly meanPlaceYield: number;
  /** Share of the virtual runs in which a layer did not end by its rule, per layer. */
  readonly missedCuts: readonly number[];
  /** Rise of the search's merit for 1 % of a layer's thickness, per layer. */
  readonly sensitivity: readonly number[];
  readonly wavelengthNm: Float64Array;
  readonly percentile: { readonly p5: Float64Array; readonly p50: Float64Array; readonly p95: Float64Array };
}
