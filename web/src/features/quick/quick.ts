// What a pocket meter, a thermometer and a jug can show, by the value of the quick check; the first
// is the usual one.
import type { Body } from '../../engine/questions';
import { settings } from '../../session.svelte';

export const quickUnits = {
  raw: ['ppm', 'uS_cm'],
  product: ['ppm', 'uS_cm'],
  temperature: ['C', 'F'],
  product_flow: ['L_h', 'L_min', 'mL_min', 'gpd'],
} as const;
export type QuickName = keyof typeof quickUnits;
export const quickNames = Object.keys(quickUnits) as QuickName[];

const customary: Partial<Record<QuickName, string>> = { temperature: 'F', product_flow: 'gpd' };

/** The quick check before anything is typed: the person's usual units. */
export function startOf(names: readonly QuickName[]): Body {
  const usual = (name: QuickName) => (settings.units === 'us' && customary[name]) || quickUnits[name][0];
  return Object.fromEntries(names.map((name) => [name, { unit: usual(name) }]));
}
