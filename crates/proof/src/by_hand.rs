//! Small sections made by hand, for tests that hold a part of the proof against numbers reckoned on paper.

use package::{
    Along, Contour, ContourDrawing, Cut, Forces, HalfRound, HoleDiameter, Pass, PlanSection, SectionKind,
    Side, Start, StartKind, StartLimits, Wire,
};

/// A burned hole.
pub fn start(x_mm: f64, y_mm: f64, diameter: f64) -> Start {
    Start {
        kind: StartKind::Burned,
        x_mm,
        y_mm,
        hole_diameter_mm: HoleDiameter { entry: diameter, exit: diameter },
        electrode_mm: None,
        depth_mm: 20.0,
        room_mm: 0.0,
        room_linear_mm: 0.0,
        clean_up_probability: 1.0,
        nearest_edge_mm: None,
        may_lie_radius_mm: None,
        position: None,
        measured: None,
        back_bore: None,
        half_round: None,
    }
}

/// A half-round as deep as its radius, with no error.
pub fn half_round(along: Along, radius: f64) -> HalfRound {
    HalfRound {
        along,
        wheel_radius_mm: radius,
        depth_mm: radius,
        depth_error_mm: 0.0,
        mismatch_mm: 0.0,
        radius_error_mm: 0.0,
        pin_mm: radius,
        no_go_mm: 2.0 * radius,
    }
}

/// One pass of a wire.
pub fn wire(diameter_mm: f64, spark_gap_mm: f64) -> Wire {
    let pass = Pass {
        offset_mm: diameter_mm / 2.0 + spark_gap_mm,
        spark_gap_mm,
        stock_left_mm: 0.0,
        register: None,
        feed_mm_per_min: 1.0,
        minutes: 1.0,
        program: "p".to_owned(),
        blocks: [1, 1],
        centre: Vec::new(),
    };
    Wire {
        relief: None,
        diameter_mm,
        passes: vec![pass],
        lead_in: Vec::new(),
        tab: None,
        erosion: Vec::new(),
    }
}

/// A cut rectangle from one corner to the other: an opening without relief.
pub fn contour(id: &str, [left, low]: [f64; 2], [right, high]: [f64; 2], start: Option<Start>) -> Contour {
    Contour {
        id: id.to_owned(),
        drawing: ContourDrawing { file: "o.dxf".to_owned(), outline: "o1".to_owned(), at_mm: [0.0, 0.0] },
        side: Side::Inside,
        cut: Cut::Finished,
        target: vec![[left, low, 0.0], [right, low, 0.0], [right, high, 0.0], [left, high, 0.0]],
        drawn: Vec::new(),
        clearance_per_side_mm: 0.0,
        size_shift_per_side_mm: None,
        outside_radius_mm: None,
        grind_stock_mm: None,
        land_mm: 20.0,
        relief_deg: 0.0,
        corner_tolerance_mm: 0.03,
        corner_radius_mm: None,
        tolerance_mm: 0.005,
        wire: start.as_ref().map(|_| wire(0.1, 0.01)),
        start,
        start_limits: StartLimits { largest_hole_mm: 0.3, bounds: Vec::new(), cures: Vec::new() },
        missed_corners: Vec::new(),
        narrowest: None,
        islands: Vec::new(),
        cores: Vec::new(),
        punch: None,
        moved_mm: None,
        fitted_mm: None,
    }
}

/// A block in one piece.
pub fn section(size_mm: [f64; 3], contours: Vec<Contour>) -> PlanSection {
    PlanSection {
        id: "s".to_owned(),
        kind: SectionKind::Die,
        steel: "D2".to_owned(),
        hardness_hrc: 60.0,
        size_mm,
        cut_from_mm: None,
        makeable: true,
        contours,
        programs: Vec::new(),
        cavity: None,
        alignment: None,
        webs: Vec::new(),
        strength: None,
        fastening: None,
        halves: None,
        land: None,
        burning: None,
        forces: Forces::default(),
    }
}
