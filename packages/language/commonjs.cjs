/**
 * The library for those who `require` it. It is one module for both sorts of readers, so that a workspace of one is known to the other:
 * `require` of a module needs a newer Node than the library does. What answers at once takes a workspace, and there is none before the
 * module is there.
 */
'use strict';

let library;

const later =
  (name) =>
  async (...given) => {
    library ??= await import('./index.js');
    return library[name](...given);
  };

const atOnce =
  (name) =>
  (...given) => {
    if (library === undefined) throw new TypeError('this is no workspace: parse or load makes one');
    return library[name](...given);
  };

// One name a line, as Node finds them for those who import this file.
exports.assess = atOnce('assess');
exports.findings = atOnce('findings');
exports.load = later('load');
exports.parse = later('parse');
exports.review = later('review');
