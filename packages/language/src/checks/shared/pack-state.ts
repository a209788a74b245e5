import type { PackOption } from '../../model/build.ts';
import { formatExact } from './finding-numbers.ts';

/** In which state a pack is taken where its full charge matters: as it is declared, or as new and out of a pocket. */
export function packState({ part }: PackOption): string {
  const temperature = part.declared('temperature');
  const cycles = part.declared('cycles');
  if (!temperature && !cycles) return 'fresh and warm';
  return [
    'charged full',
    ...(temperature ? [`at ${formatExact(temperature.value, 'degC')}`] : []),
    ...(cycles ? [`after ${formatExact(cycles.value, '')} ${cycles.value === 1 ? 'cycle' : 'cycles'}`] : []),
  ].join(', ');
}
