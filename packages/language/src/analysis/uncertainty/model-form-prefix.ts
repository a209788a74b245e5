/** Begins the ids of figures that no file states. */

/** Ids of terms that represent what the model leaves out; see `model-form.ts`. */
export const MODEL_FORM_PREFIX = 'model.';
