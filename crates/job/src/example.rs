//! The built-in example shop: values to start with until the shop's own logs replace them.
//!
//! None of them was measured or checked; every one is marked as a starting value. They are for hardened D2.

use crate::alignment::Alignment;
use crate::allowance::Allowance;
use crate::burner::{Burner, Depth};
use crate::core::Core;
use crate::cutting::Cutting;
use crate::dialect::{Dialect, Output, UnitsWords};
use crate::electrode::Electrode;
use crate::guides::Guides;
use crate::half_round::HalfRound;
use crate::known::{From, Known};
use crate::land::Land;
use crate::order::{Order, Side};
use crate::press::Press;
use crate::shop::Shop;
use crate::units::Units;
use crate::wire::Wire;

const BENCH: &str = "starting value: from memory, bench practice, checked by nobody";
const PRACTICE: &str = "starting value: common practice, no source";

/// Electrode, overcut per side, deepest block, mm/min, wear in percent, drift per mm, bellmouth per side, recast.
/// The table gives the hole; overcut is half of hole minus electrode.
const ELECTRODES: [[f64; 8]; 6] = [
    [0.10, 0.015, 8.0, 2.0, 200.0, 0.0015, 0.006, 0.006],
    [0.15, 0.015, 20.0, 4.0, 150.0, 0.0010, 0.008, 0.008],
    [0.20, 0.020, 30.0, 8.0, 120.0, 0.0007, 0.010, 0.010],
    [0.25, 0.025, 40.0, 12.0, 100.0, 0.0006, 0.012, 0.012],
    [0.50, 0.035, 80.0, 20.0, 80.0, 0.0006, 0.018, 0.015],
    [1.00, 0.050, 150.0, 30.0, 60.0, 0.0010, 0.030, 0.025],
];

/// A row of the table of wires.
struct WireRow {
    diameter: f64,
    gap: f64,
    offsets: [f64; 4],
    /// mm2/min at a block height of 10, 20 and 40 mm; none: avoid.
    rates: [Option<f64>; 3],
    tab: f64,
}

const WIRES: [WireRow; 6] = [
    wire_row(0.05, 0.006, [0.039, 0.031, 0.028, 0.027], [Some(2.5), Some(3.0), None], 0.3),
    wire_row(0.07, 0.008, [0.054, 0.042, 0.0385, 0.037], [Some(5.0), Some(6.0), Some(5.0)], 0.3),
    wire_row(0.10, 0.010, [0.075, 0.059, 0.0545, 0.053], [Some(10.0), Some(12.0), Some(14.0)], 0.3),
    wire_row(0.15, 0.015, [0.112, 0.087, 0.081, 0.0785], [Some(22.0), Some(28.0), Some(32.0)], 0.5),
    wire_row(0.20, 0.020, [0.150, 0.115, 0.108, 0.105], [Some(38.0), Some(48.0), Some(58.0)], 0.8),
    wire_row(0.25, 0.025, [0.190, 0.142, 0.134, 0.131], [Some(50.0), Some(62.0), Some(75.0)], 1.2),
];

const fn wire_row(diameter: f64, gap: f64, offsets: [f64; 4], rates: [Option<f64>; 3], tab: f64) -> WireRow {
    WireRow { diameter, gap, offsets, rates, tab }
}

/// Block heights of the rates, mm.
const HEIGHTS: [f64; 3] = [10.0, 20.0, 40.0];

/// The built-in example shop. Every value in it is a starting value.
pub fn example_shop() -> Shop {
    Shop {
        name: "Example shop".to_owned(),
        units: Units::Mm,
        currency: "EUR".to_owned(),
        electrodes: ELECTRODES.iter().map(electrode).collect(),
        wires: WIRES.iter().map(wire).collect(),
        allowance: allowance(),
        dialect: dialect(),
        cutting: cutting(),
        core: core(),
        order: order(),
        alignment: alignment(),
        press: press(),
        burner: burner(),
        guides: guides(),
        land: land(),
        half_round: half_round(),
    }
}

fn starting<T>(value: T, table: &str, key: &str, note: &str) -> Known<T> {
    Known { value, from: From::Starting { row: format!("{table}, {key}"), note: note.to_owned() } }
}

fn electrode(row: &[f64; 8]) -> Electrode {
    let [diameter, overcut, max_depth, rate, wear, drift, bellmouth, recast] = *row;
    let table = format!("electrode {diameter}");
    let known = |value, key| starting(value, &table, key, BENCH);
    Electrode {
        diameter: known(diameter, "diameter"),
        overcut: known(overcut, "overcut"),
        bellmouth: known(bellmouth, "bellmouth"),
        max_depth: known(max_depth, "max_depth"),
        rate_mm_per_min: known(rate, "rate_mm_per_min"),
        wear_percent: known(wear, "wear_percent"),
        drift_per_mm: known(drift, "drift_per_mm"),
        recast: known(recast, "recast"),
    }
}

fn wire(row: &WireRow) -> Wire {
    let table = format!("wire {}", row.diameter);
    let rates: Vec<[f64; 2]> =
        HEIGHTS.iter().zip(row.rates).filter_map(|(height, rate)| Some([*height, rate?])).collect();
    // A height marked "avoid" leaves the last height with a rate as the greatest known to work.
    let max_height = row.rates.contains(&None).then(|| rates.last().map(|[height, _]| *height)).flatten();
    Wire {
        diameter: starting(row.diameter, &table, "diameter", BENCH),
        gap: starting(row.gap, &table, "gap", BENCH),
        offsets: starting(row.offsets.to_vec(), &table, "offsets", BENCH),
        rates: starting(rates, &table, "rates", BENCH),
        max_height: max_height.map(|height| starting(height, &table, "max_height", BENCH)),
        tab: starting(row.tab, &table, "tab", BENCH),
    }
}

fn allowance() -> Allowance {
    let known = |value, key| starting(value, "allowance", key, BENCH);
    Allowance {
        position: known(0.010, "position"),
        position_following: known(0.003, "position_following"),
        position_remounted: known(0.020, "position_remounted"),
        measuring: known(0.003, "measuring"),
        measure_below: known(0.010, "measure_below"),
        size: known(0.005, "size"),
        drift_per_mm: None,
        recast: None,
        clean_up_stock: known(0.005, "clean_up_stock"),
        threading_room: known(0.04, "threading_room"),
        stand_off: known(2.0, "stand_off"),
    }
}

fn dialect() -> Dialect {
    let number = |value, key| starting(value, "dialect", key, PRACTICE);
    Dialect {
        units: starting(Units::Mm, "dialect", "units", PRACTICE),
        units_words: starting(
            UnitsWords::G70G71,
            "dialect",
            "units_words",
            "starting value: the words of ISO 6983-1",
        ),
        decimals: None,
        output: starting(Output::Register, "dialect", "output", PRACTICE),
        thread: number(60, "thread"),
        cut: number(50, "cut"),
        stop: number(0, "stop"),
        end: number(2, "end"),
        least_lead_in: starting(0.02, "dialect", "least_lead_in", PRACTICE),
    }
}

fn press() -> Press {
    let known = |value, key| starting(value, "press", key, PRACTICE);
    Press { force_kn: known(250.0, "force_kn"), use_at_most: known(0.75, "use_at_most") }
}

fn cutting() -> Cutting {
    let known = |value, key| starting(value, "cutting", key, BENCH);
    Cutting {
        starved_factor: known(0.45, "starved_factor"),
        starved_below: known(1.0, "starved_below"),
        skim_feed_factor: known(3.5, "skim_feed_factor"),
        skim_feed_limit: known(8.0, "skim_feed_limit_mm_per_min"),
        corner_feed_factor: known(0.5, "corner_feed_factor"),
        lead_in_feed_factor: known(0.5, "lead_in_feed_factor"),
        overlap: known(0.1, "overlap"),
        threading_minutes: known(2.0, "threading_minutes"),
        wire_change_minutes: known(30.0, "wire_change_minutes"),
        setup_minutes: known(25.0, "setup_minutes"),
        stop_minutes: known(5.0, "stop_minutes"),
        core_stop_from_g: known(0.02, "core_stop_from_g"),
        hole_minutes_attended: known(15.0, "hole_minutes_attended"),
        remake_minutes: known(480.0, "remake_minutes"),
        passes_for: starting(
            vec![(0.015, 0), (0.008, 1), (0.004, 2), (0.0025, 3)],
            "cutting",
            "passes_for",
            BENCH,
        ),
    }
}

fn core() -> Core {
    let known = |value, key| starting(value, "core", key, BENCH);
    Core {
        hold_from_g: known(0.5, "hold_from_g"),
        friction: known(0.3, "friction"),
        tab_stress_mpa: known(100.0, "tab_stress_mpa"),
        piece_tab: known(3.5, "piece_tab"),
        frame: known(2.0, "frame"),
        beside: known(1.0, "beside"),
        sliver_below: known(0.1, "sliver_below"),
    }
}

fn alignment() -> Alignment {
    let known = |value, key| starting(value, "alignment", key, BENCH);
    Alignment {
        pick_up: known(0.003, "pick_up"),
        positioning: known(0.002, "positioning"),
        squareness_per_mm: known(0.0001, "squareness_per_mm"),
        grinding: known(0.002, "grinding"),
        measuring: known(0.002, "measuring"),
        punch: known(0.002, "punch"),
        share: known(0.2, "share_of_clearance"),
    }
}

fn order() -> Order {
    Order {
        clamp: starting(Side::Left, "order", "clamp", PRACTICE),
        rough_all_below: starting(0.005, "order", "rough_all_below", BENCH),
    }
}

fn burner() -> Burner {
    let known = |value, key| starting(value, "burner", key, BENCH);
    let number = |value, key| starting(value, "burner", key, PRACTICE);
    Burner {
        // A tube of 300 to 400 less what holder and guide keep.
        electrode_length: known(250.0, "electrode_length"),
        dress_length: known(0.5, "dress_length"),
        depth: starting(Depth::Travel, "burner", "depth", PRACTICE),
        retract: known(5.0, "retract"),
        dress_minutes: known(1.5, "dress_minutes"),
        change_minutes: known(3.0, "change_minutes"),
        spark_on: number(3, "spark_on"),
        spark_off: number(5, "spark_off"),
        stop: number(0, "stop"),
        end: number(2, "end"),
    }
}

fn guides() -> Guides {
    let known = |value, key| starting(value, "guides", key, BENCH);
    Guides { above: known(10.0, "above"), below: known(10.0, "below"), travel: known(20.0, "travel") }
}

fn land() -> Land {
    let known = |value, key| starting(value, "land", key, BENCH);
    Land {
        relief_deg: known(0.5, "relief_deg"),
        relief_stock: known(0.005, "relief_stock"),
        regrind: known(0.05, "regrind"),
        strokes_per_regrind: known(100_000.0, "strokes_per_regrind"),
    }
}

fn half_round() -> HalfRound {
    let known = |value, key| starting(value, "half_round", key, BENCH);
    HalfRound {
        radii: starting(
            vec![0.06, 0.08, 0.10, 0.125, 0.15, 0.20, 0.25, 0.30, 0.40, 0.50],
            "half_round",
            "radii",
            BENCH,
        ),
        size: known(0.003, "size"),
        position: known(0.005, "position"),
        depth: known(0.003, "depth"),
        mismatch: known(0.004, "mismatch"),
        lean_per_mm: known(0.0002, "lean_per_mm"),
    }
}
