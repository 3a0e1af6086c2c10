//! The planner from outside: holes worked by hand, published examples, and what must hold of every plan.

mod bench;
mod properties;
mod published;
mod start_holes;
