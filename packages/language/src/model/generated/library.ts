// Made from library/*.fettle by embed-library.ts. Do not edit.
export const LIBRARY: readonly { readonly name: string; readonly text: string }[] = [];
