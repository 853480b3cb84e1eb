// What a pocket meter, a thermometer and a jug can show, by the value of the quick check; the first
// is the usual one.
import { settings } from '../../session.svelte';
import type { Form } from '../plates/form.svelte';

export const quickUnits = {
  raw: ['ppm', 'uS_cm'],
  product: ['ppm', 'uS_cm'],
  temperature: ['C', 'F'],
  product_flow: ['L_h', 'L_min', 'mL_min', 'gpd'],
} as const;
export type QuickName = keyof typeof quickUnits;
export const quickNames = Object.keys(quickUnits) as QuickName[];

const customary: Partial<Record<QuickName, string>> = { temperature: 'F', product_flow: 'gpd' };

/** Opens the form with the person's usual units where none was chosen yet. */
export async function openQuick(form: Form, names: readonly QuickName[]) {
  await form.open();
  for (const name of names) {
    if (form.field(`${name}.unit`)?.shown) continue;
    const usual = (settings.units === 'us' && customary[name]) || quickUnits[name][0];
    await form.choose(`${name}.unit`, usual);
  }
}
