import { RAD_PER_DEG } from '../base/constants.ts';
import { InputError, requireWithin } from '../base/errors.ts';
import { meanArrival } from './deposit.ts';
import { flatSeat, hung } from './element.ts';
import { type Motion, requireMotion } from './motion.ts';
import { arrivalAt, meanOverTurn, requireSource, type VapourSource } from './vapour-source.ts';

/** A monitor glass or crystal in the chamber, facing down, leaning towards the axis by its tilt. */
export interface Sensor {
  /** Distance from the chamber's axis. */
  readonly offsetMm: number;
  readonly azimuthDeg?: number;
  readonly heightMm: number;
  readonly tiltDeg?: number;
  /** Whether it goes round with the carrier; else it stands still. */
  readonly turning?: boolean;
}

export interface Tooling {
  /** Fractions of the evaporated mass per mm². */
  readonly lensPerMm2: number;
  readonly sensorPerMm2: number;
  /** Thickness on the sensor over that on the lens: the tooling of optical monitoring. */
  readonly sensorOverLens: number;
  /** Its inverse: the tooling of crystal monitors. */
  readonly lensOverSensor: number;
}

/**
 * Tooling of a sensor from geometry alone, for one source: a first figure until the shop's own records replace it.
 * @param radiusMm place of the lens on its rack. @throws InputError for a value outside its range, and where lens or
 * sensor get nothing.
 */
export function toolingFactor(
  source: VapourSource,
  motion: Motion,
  radiusMm: number,
  sensor: Sensor,
): Tooling {
  requireSource(source);
  requireMotion(motion);
  requireWithin('radiusMm', radiusMm, 'mm', { min: 0, max: 10_000 });
  requireWithin('sensor.offsetMm', sensor.offsetMm, 'mm', { min: 0, max: 10_000 });
  requireWithin('sensor.heightMm', sensor.heightMm, 'mm', { min: 1, max: 10_000 });
  requireWithin('sensor.tiltDeg', sensor.tiltDeg ?? 0, '°', { min: -90, max: 90 });
  const hanging = {
    radius: sensor.offsetMm,
    height: sensor.heightMm,
    tilt: (sensor.tiltDeg ?? 0) * RAD_PER_DEG,
  };
  const element = hung(flatSeat(0), hanging);
  const azimuth = ((source.azimuthDeg ?? 0) - (sensor.azimuthDeg ?? 0)) * RAD_PER_DEG;
  const sensorPerMm2 =
    sensor.turning === true ? meanOverTurn(source, element) : arrivalAt(source, element, azimuth);
  const lensPerMm2 = meanArrival(source, motion, radiusMm, flatSeat(0));
  if (sensorPerMm2 <= 0) throw new InputError('sensor', 'the source does not reach it');
  if (lensPerMm2 <= 0)
    throw new InputError('radiusMm', `at ${radiusMm} mm the source does not reach the rack`);
  return {
    lensPerMm2,
    sensorPerMm2,
    sensorOverLens: sensorPerMm2 / lensPerMm2,
    lensOverSensor: lensPerMm2 / sensorPerMm2,
  };
}
