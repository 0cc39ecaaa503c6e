import type { AnyTask } from './task.ts';

/**
 * Every task by its name. A task's module is loaded when it is first asked for, so that a small request
 * starts fast.
 */
export const TASKS: Readonly<Record<string, () => Promise<AnyTask>>> = {
  index: async () => (await import('./tasks/index.ts')).default,
  spectrum: async () => (await import('./tasks/spectrum.ts')).default,
  field: async () => (await import('./tasks/field.ts')).default,
  colour: async () => (await import('./tasks/colour.ts')).default,
  design: async () => (await import('./tasks/design.ts')).default,
  tolerance: async () => (await import('./tasks/tolerance.ts')).default,
  rescue: async () => (await import('./tasks/rescue.ts')).default,
  offaxis: async () => (await import('./tasks/offaxis.ts')).default,
  charge: async () => (await import('./tasks/charge.ts')).default,
  crystal: async () => (await import('./tasks/crystal.ts')).default,
  monitor: async () => (await import('./tasks/monitor.ts')).default,
  rehearse: async () => (await import('./tasks/rehearse.ts')).default,
  plan: async () => (await import('./tasks/plan.ts')).default,
  pumpdown: async () => (await import('./tasks/pumpdown.ts')).default,
  deposit: async () => (await import('./tasks/deposit.ts')).default,
  shield: async () => (await import('./tasks/shield.ts')).default,
  read: async () => (await import('./tasks/read.ts')).default,
  nest: async () => (await import('./tasks/nest.ts')).default,
  fit: async () => (await import('./tasks/fit.ts')).default,
  yield: async () => (await import('./tasks/yield.ts')).default,
  places: async () => (await import('./tasks/places.ts')).default,
  aim: async () => (await import('./tasks/aim.ts')).default,
  ways: async () => (await import('./tasks/ways.ts')).default,
};
