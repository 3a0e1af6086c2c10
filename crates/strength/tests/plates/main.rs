//! Whole plates: closed forms and published values, properties that any plate has, and refusals.

mod closed_forms;
mod properties;
mod refusals;
mod shapes;
