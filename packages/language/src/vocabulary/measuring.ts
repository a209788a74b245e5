/** How a builder gets a figure that is only estimated: what an advice says instead of the property's name. */
const HOW: Readonly<Record<string, string>> = {
  'motor.resistance': 'the resistance of {part} between two of its wires, with a milliohm meter',
  'motor.inductance': 'the inductance of {part} between two of its wires, with an LCR meter',
  'motor.idle': 'the current of {part} without its propeller, at a known voltage',
  'motor.kv': 'the speed of {part} without its propeller, at a known voltage',
  'propeller.thrust_coefficient': 'thrust, watts and speed of {part} at one point on a stand, for its coefficients',
  'propeller.power_coefficient': 'thrust, watts and speed of {part} at one point on a stand, for its coefficients',
  'esc.resistance': 'the resistance of one channel of {part}, both switches on',
  'pack.cell_resistance': 'the cell resistance of {part}, as the charger shows it',
  'pack.capacity': 'the charge that goes back into {part} after a flight to empty',
};

/**
 * Words for a figure of a part; a property without words of its own is named as it stands ("duct gain of Duct90").
 * @param id of the figure: `…#motor M1104.resistance`
 * @param label of the figure: `resistance of M1104`
 */
export function howToMeasure({ id, label }: { readonly id: string; readonly label: string }): string {
  const [, kind, part, property] = /#(\w+) (\w+)\.(\w+)$/.exec(id) ?? [];
  if (!kind || !part || !property) return label;
  if (property === 'mass') return `${part} on a scale`;
  return HOW[`${kind}.${property}`]?.replace('{part}', part) ?? label;
}
