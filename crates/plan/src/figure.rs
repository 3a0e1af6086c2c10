//! A number with its derivation: small, copyable, and opaque to geometry.

/// A number of the plan and the line of the reckoning that says where it came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The number, in the unit that its line states.
    pub value: f64,
    /// Position of its line in the section's reckoning.
    pub(crate) line: u32,
}
