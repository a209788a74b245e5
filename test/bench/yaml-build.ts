/** The Gable of the examples as YAML, and a JSON schema that checks its shape: what one would do without a language of one's own. */
export const YAML_BUILD = `build: Gable
rules: SurveyRules
airframe: Open184
motors:
  - count: 4
    motor: M1606_3150
    propeller: P4022x2
esc: Board35
loads:
  - name: LinkCam
    from: Board35.logic
  - name: Receiver
    from: Board35.logic
  - name: Lamp
    from: pack
items:
  - name: ScrewM2
    count: 12
  - mass_g: 2.4
    label: solder, heat-shrink, tape
packs:
  - name: Eaves1150_3S
  - name: Round2600_3S
    duty: 66
require:
  - hover_time >= 2 min
`;

const name = { type: 'string', pattern: '^[A-Za-z_][A-Za-z0-9_.]*$' } as const;
const list = (properties: object, required: readonly string[] = []) => ({
  type: 'array',
  items: { type: 'object', additionalProperties: false, properties, required },
});

export const YAML_SCHEMA = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  type: 'object',
  additionalProperties: false,
  required: ['build', 'motors', 'packs'],
  properties: {
    build: name,
    rules: name,
    airframe: name,
    motors: list({ count: { type: 'integer', minimum: 1, maximum: 16 }, motor: name, propeller: name }, [
      'motor',
      'propeller',
    ]),
    esc: name,
    loads: list({ name, from: name }, ['name']),
    items: list({
      name,
      count: { type: 'integer', minimum: 1 },
      mass_g: { type: 'number', minimum: 0 },
      label: { type: 'string' },
    }),
    packs: list({ name, duty: { type: 'number', minimum: 1, maximum: 100 } }, ['name']),
    require: { type: 'array', items: { type: 'string' } },
  },
} as const;
