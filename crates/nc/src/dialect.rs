//! How one wire machine likes its programs: the row of the shop's dialect table.

/// Unit of a program's lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Inches of 25.4 mm.
    In,
}

/// Which words say the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitsWords {
    /// G70 inches, G71 millimetres: ISO 6983-1.
    G70G71,
    /// G20 inches, G21 millimetres: by convention.
    G20G21,
}

/// What the coordinates of a program mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Output {
    /// The finished edge, with G41 or G42 and a register for each pass.
    Register,
    /// The wire's centre.
    Centre,
}

/// The words of a machine. The machine functions are common practice, no source; a shop states its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dialect {
    /// Unit of lengths and feeds.
    pub units: Units,
    /// Which words say so.
    pub units_words: UnitsWords,
    /// Decimals of a coordinate. 4 in millimetres and 6 in inches keep rounding below 0.1 um.
    pub decimals: u8,
    /// What the coordinates mean.
    pub output: Output,
    /// M number that threads the wire.
    pub thread: u32,
    /// M number that cuts the wire.
    pub cut: u32,
    /// M number that stops for the operator.
    pub stop: u32,
    /// M number that ends the program: 2 or 30.
    pub end: u32,
}

impl Dialect {
    /// The usual words for a unit: 4 decimals of a millimetre, 6 of an inch.
    pub fn of(units: Units) -> Self {
        let decimals = match units {
            Units::Mm => 4,
            Units::In => 6,
        };
        Self {
            units,
            units_words: UnitsWords::G70G71,
            decimals,
            output: Output::Register,
            thread: 60,
            cut: 50,
            stop: 0,
            end: 2,
        }
    }

    /// Millimetres in one of its units.
    pub fn unit_mm(&self) -> f64 {
        match self.units {
            Units::Mm => 1.0,
            Units::In => 25.4,
        }
    }
}

impl Default for Dialect {
    fn default() -> Self {
        Self::of(Units::Mm)
    }
}
