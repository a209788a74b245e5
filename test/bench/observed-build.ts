/** A build with twenty measured lines: a scale, charger and recorder on two flights, and a stand. */
import { learntOn } from '../../packages/language/src/analysis/assess.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { checkedIn } from '../checks/findings-in.ts';

const TEXT = `bench Stand {
  motor: M1805
  propeller: P4024x3
  esc: Board28
  rows duty in %, voltage in V, current in A, thrust in gf, speed in rpm {
    30, 15.4, 0.62, 48, 9900
    60, 15.2, 2.9, 150, 17600
    100, 14.8, 8.6, 330, 25600
  }
}
${EXAMPLE_CRAFT.slice(0, EXAMPLE_CRAFT.lastIndexOf('}'))}
  observed "granary" with Mast900_4S {
    scale: 288 g
    airborne: 5 min
    put_back: 410 mAh
    counted: 400 mAh
    hover_current: 4.9 A at 60 %
    hover_voltage: 15.2 V at 60 %
    hover_output: 38 % at 60 %
    burst_current: 31 A
    burst_voltage: 14.2 V
  }
  observed "tower" with Mast900_4S {
    hover_current: 5 A at 50 %
    hover_voltage: 15 V at 50 %
  }
}
`;

export async function buildWithObservations(): Promise<{ readonly build: Build; readonly lines: number }> {
  const build = (await checkedIn({ 'a.fettle': TEXT }))['a.fettle']?.builds[0]?.build;
  if (!build) throw new Error('the bench text has a build');
  return { build, lines: learntOn(build)?.lines.length ?? 0 };
}
