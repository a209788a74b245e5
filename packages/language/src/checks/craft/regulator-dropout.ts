/** A step-down whose input no longer delivers its output. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import { exactNumber, formatExact } from '../shared/finding-numbers.ts';

export const regulatorDropout: Check = {
  id: 'regulator-dropout',
  atMost: 'information',
  option: findDropout,
  page: {
    title: 'A step-down runs out of input',
    cause:
      'A step-down needs some input above its output. Below that it simply follows its input: loads see a sagging voltage instead of a steady one. As long as the loads tolerate it, nothing happens.',
    criterion:
      'input in a burst at the reserve below output + dropout: information. Folded into rail-undervoltage when a load browns out by it.',
    standing: 'Textbook behaviour of a buck converter and of a linear regulator.',
    remedy: 'Nothing, if the loads tolerate the dip; else a pack with one more cell, or a step-up.',
    fixes: [],
    fails: `esc Board28_14V like Board28 {
  rail camera { output: 14 V }
}
build Following like Healthy {
  esc: Board28_14V
  without: LinkCam
  load: LinkCam from Board28_14V.camera
}`,
    passes: `build Carried like Healthy {
  rules: ExampleRules
}`,
  },
};

function* findDropout({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  for (const { rail, dropsOut } of assessment.rails) {
    const output = rail.part.figure('output');
    const loaded = build.loads.some(({ from }) => 'rail' in from && from.rail === rail);
    if (!dropsOut || !output || !loaded) continue;
    yield {
      severity: 'information',
      message: `On ${option.name} the input of ${rail.name} falls below what its ${formatExact(output.value, 'V')} need; it then follows its input. Nothing to do where its loads take that.`,
      names: [option, rail],
      place: rail.place,
      foldKey: rail.name,
      numbers: [exactNumber('output', output.value, 'V')],
      related: [{ message: `on ${option.name}`, place: option.place }],
    };
  }
}
