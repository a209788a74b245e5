import description from '../../package.json' with { type: 'json' };

/** Of the program, as its package says. */
export const { version } = description;
