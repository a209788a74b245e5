import description from '../../../package.json' with { type: 'json' };

/** Set by the build: what it was made of. */
declare const FETTLE_COMMIT: string | undefined;

const commit = typeof FETTLE_COMMIT === 'undefined' ? undefined : FETTLE_COMMIT;

/** Of the program, as its package states. */
export const { version } = description;

/** With the commit it was built from, as semantic versions append it: `0.1.0+91d5277d`; `.changed` when files differed from it. */
export const fullVersion = commit ? `${version}+${commit}` : version;

/** For the foot of a page that is kept. */
export const COMPUTED_BY = `Computed by fettle ${fullVersion}.`;
