// What a step of the book was, in a few words: said before it is taken back.
import type { Entry } from '../../data/site_file';
import type { View } from '../../engine/questions';
import { say, t } from '../../session.svelte';

const plain = ['site', 'survey', 'machine', 'photo', 'start_up', 'blend', 'blend_turn', 'blend_left', 'handed_over'] as const;
type Plain = (typeof plain)[number];
const isPlain = (kind: string): kind is Plain => (plain as readonly string[]).includes(kind);

/** The first of a step's entries tells which it was. */
export async function named([entry]: Entry[], view: View | undefined): Promise<string> {
  const { kind, body } = entry!;
  if (kind === 'reading' || kind === 'not_possible') {
    const point = view?.scene?.points.find((one) => one.point === body['point']);
    const said = kind === 'not_possible' ? point?.not_possible : point?.entry === entry!.id ? point.reading : '';
    return [point?.name ?? t('app.undo.reading'), said].filter(Boolean).join(' ');
  }
  if (kind === 'step') {
    const state = t(`choice.step_state.${body['state'] as 'done'}`);
    return `${await say(`course.name.${body['step'] as string}`)}: ${state}`;
  }
  return t(isPlain(kind) ? `app.undo.${kind}` : 'app.undo.change');
}
