//! Kinds of line: what each means, how wide it is on paper and how it is dashed.

/// What a line means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Frames, the block, leaders, dimensions, scale bars.
    Plain,
    /// What the part has.
    PrintEdge,
    /// The edge of the section.
    FinishedEdge,
    /// The edge of the punch that passes through.
    Punch,
    /// What is asked for, in a chart.
    Asked,
    /// The start hole and its cross.
    StartHole,
    /// Where its rim may lie.
    MayLie,
    /// The two facing bars from rim to edge.
    Room,
    /// The way of the wire's centre.
    WireCentre,
    /// A tick across it: as many as the number of the pass.
    Tick,
    /// The way from the hole to the edge.
    LeadIn,
    /// Metal that the wire frees.
    Core,
    /// The bar over the triangle of a core that is held.
    HeldBar,
    /// The brackets of a tab.
    Tab,
    /// Stock left on a face for grinding.
    GroundStock,
    /// Straight cutting height, from the side.
    Land,
    /// Widening below the land, from the side.
    Relief,
    /// The joint of two halves.
    Joint,
}

impl LineKind {
    /// Width on paper, mm; the same at every scale.
    pub fn width_mm(self) -> f64 {
        match self {
            Self::FinishedEdge | Self::HeldBar => 0.7,
            Self::StartHole | Self::LeadIn | Self::Room | Self::Tab => 0.35,
            _ => 0.25,
        }
    }

    /// Lengths of dash and space on paper, mm; empty for a continuous line.
    pub fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::PrintEdge => &[8.0, 1.5, 0.3, 1.5, 0.3, 1.5],
            Self::Joint => &[8.0, 1.5, 0.3, 1.5],
            Self::MayLie => &[0.25, 1.0],
            Self::WireCentre | Self::Asked => &[4.0, 1.5],
            Self::Punch => &[8.0, 1.5],
            _ => &[],
        }
    }
}
