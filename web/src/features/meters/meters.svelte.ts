// The person's own meters: kept with the settings of this phone, each as `calc meter` takes it.
import type { Meter } from '../../data/backup';
import { uuid7 } from '../../data/stamps';
import { EngineError } from '../../engine/bridge';
import type { Body, CheckedMeter, Input, Point } from '../../engine/questions';
import { ask, change, say, settings } from '../../session.svelte';

type Purpose = CheckedMeter['purposes'][number];

/** Today as people write it down, where this phone is. */
export function today(now = new Date()): string {
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const asBought = ({ body }: Meter) => body['meter'] as { reads?: string; instrument?: Body } | undefined;
const instrument = (meter: Meter): Body => asBought(meter)?.instrument ?? {};
export const name = (meter: Meter): string => String(instrument(meter)['name'] ?? '');
const all = (): Meter[] => $state.snapshot(settings.meters) as Meter[];

/** A new one in the list; returns its id. */
export async function add(): Promise<string> {
  const id = uuid7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
  const called = await say('app.meters.name', { numbers: [{ key: 'count', value: settings.meters.length + 1 }] });
  await change('meters', [...all(), { id, body: { meter: { instrument: { name: called } } } }]);
  return id;
}
export async function keep(id: string, body: Body) {
  await change('meters', all().map((meter) => (meter.id === id ? { id, body } : meter)));
}
/** Takes it off the list; returns the way to bring it back. */
export async function remove(id: string): Promise<() => Promise<void>> {
  const before = all();
  const at = before.findIndex((meter) => meter.id === id);
  await change('meters', before.filter((meter) => meter.id !== id));
  return async () => {
    const now = all();
    await change('meters', [...now.slice(0, at), ...before.slice(at, at + 1), ...now.slice(at)]);
  };
}

/** What the checks say today; nothing while it is not all entered. */
export async function check(body: Body): Promise<CheckedMeter | undefined> {
  try {
    return await ask('meter', { ...body, on: today() } as unknown as Input<'meter'>);
  } catch (error) {
    if (!(error instanceof EngineError) || error.kind === 'broken') throw error;
    return undefined;
  }
}

const isPressure = ({ point }: Point) => point.endsWith('_pressure');
/** Those that can read this point: the qualities are read by conductivity. */
export function fitting(point: Point): Meter[] {
  const reads = isPressure(point) ? ['bar', 'kPa', 'psi'] : point.point.endsWith('_quality') ? ['ppm', 'uS_cm'] : [];
  return settings.meters.filter((meter) => reads.includes(asBought(meter)?.reads ?? ''));
}
/** The reject is nearer to the raw water than to the product, in its pressure to the membrane. */
export function purposeAt({ point }: Point): Purpose['purpose'] {
  if (point === 'raw_quality' || point === 'reject_quality') return 'raw';
  if (point === 'inlet_pressure' || point === 'filtered_pressure') return 'inlet';
  return point.endsWith('_pressure') ? 'membrane' : 'product';
}
/** The setting that holds the meter that such a point was read with last. */
export const lastOf = (point: Point): 'meter' | 'gauge' => (isPressure(point) ? 'gauge' : 'meter');

/** What a reading takes over from the meter: its number stays as the meter shows it. */
export const taken = (meter: Meter): Body => ({ instrument: { ...instrument(meter) }, unit: asBought(meter)?.reads });
/** The same of the meter that was read with last, for a new reading. */
export function start(point: Point): Body {
  const last = point.entry ? undefined : fitting(point).find(({ id }) => id === settings[lastOf(point)]);
  return last ? taken(last) : {};
}
/** Whether a reading is by this meter: the same in all that was taken over. */
export function isBy(meter: Meter, reading: Body): boolean {
  const text = (body: unknown) => JSON.stringify(Object.entries({ ...(body as Body) }).sort());
  return text(instrument(meter)) === text(reading['instrument']);
}
