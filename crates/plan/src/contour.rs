//! One edge of a section from the job's words to its entry in the plan.
//!
//! Stages: the opening in its place; every wire and every electrode looked at, silently; one way chosen (by the
//! section, which sees all edges); that way, or the one nearest to possible, written down with its derivations.

use crate::burn::{self, Burn};
use crate::candidate::{self, Candidate, Setting};
use crate::choice::{self, Looked};
use crate::cores::Entrance;
use crate::cures;
use crate::cutting::Cutting;
use crate::edge_start;
use crate::figure::Figure;
use crate::half_round;
use crate::hold_point;
use crate::hole::{Hole, Terms};
use crate::limits;
use crate::narrowest::Narrow;
use crate::opening::Opening;
use crate::passes::Passes;
use crate::reckoning::{At, Reckoning, what};
use crate::relief::Relief;
use crate::rules::hole as rules;
use crate::wiring::{self, Wired};
use job::{Edge, Section, Shop};
use outline::Outline;
use package::{self as published, BulgeVertex};
use remark::Remark;

/// An edge with everything that was looked at.
#[derive(Debug)]
pub struct Studied {
    /// The opening.
    pub opening: Opening,
    /// How its hole is burned.
    pub burn: Burn,
    /// Each wire of the shop that holds the tolerance, in this opening.
    pub cuttings: Vec<Cutting>,
    /// What the shop allows for each electrode.
    pub terms: Vec<Terms>,
    /// The best way with each wire.
    pub looked: Looked,
    /// Wires that could not be looked at, and why.
    pub left_out: Vec<Remark>,
}

/// An edge as it is written down.
#[derive(Debug)]
pub struct Decided {
    /// Its entry; programs are not named yet.
    pub contour: published::Contour,
    /// What its program needs; none where it cannot be cut.
    pub cut: Option<Wired>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// Looks at every wire and electrode for one opening.
pub fn study(
    (opening, burn): (Opening, Burn),
    head: &str,
    shop: &Shop,
    (section, edge): (&Section, &Edge),
    frame: Frame,
) -> Result<Studied, Vec<Remark>> {
    let silent = &mut Reckoning::silent();
    let terms: Vec<Terms> =
        (0..shop.electrodes.len()).map(|row| burn.terms(silent, head, shop, row)).collect();
    electrode_there(shop, edge)?;
    let mut cuttings = Vec::new();
    let mut left_out = Vec::new();
    let skims = shop.cutting.skims_for(edge.tolerance.value);
    let relief = Relief::of(silent, head, shop, (burn.frame(frame), frame.height));
    for (row, wire) in shop.wires.iter().enumerate() {
        let Some(passes) = skims.and_then(|skims| Passes::of(silent, head, (row, wire), skims)) else {
            continue;
        };
        // One wire whose way cannot be proved is one wire less; the others may do.
        match Cutting::of(&opening, passes, (head, relief)) {
            Ok(cutting) => cuttings.push(cutting),
            Err(error) => {
                let message =
                    format!("edge `{}`: wire {} was left out: {error}", edge.id, wire.diameter.value);
                left_out.push(Remark::warning("wire-left-out", message).place(edge.place.clone()));
            }
        }
    }
    if cuttings.is_empty() && !left_out.is_empty() {
        return Err(left_out
            .into_iter()
            .map(|remark| Remark { severity: remark::Severity::Error, ..remark })
            .collect());
    }
    let setting = Setting {
        head,
        shop,
        section,
        edge,
        opening: &opening,
        burn: &burn,
        height: burn.height,
        steel_rate: frame.steel_rate,
        relief,
    };
    let looked = match edge.start.at_block_edge() {
        true => edge_start::look(setting, &cuttings),
        false => choice::look(setting, &cuttings, &terms),
    };
    Ok(Studied { opening, burn, cuttings, terms, looked, left_out })
}

/// An electrode that the job states must be one of the shop's.
fn electrode_there(shop: &Shop, edge: &Edge) -> Result<(), Vec<Remark>> {
    let Some(stated) = &edge.start.electrode else { return Ok(()) };
    if shop.electrodes.iter().any(|one| candidate::same(one.diameter.value, stated.value)) {
        return Ok(());
    }
    let has: Vec<String> = shop.electrodes.iter().map(|one| one.diameter.value.to_string()).collect();
    let message = format!(
        "edge `{}` is to be started with electrode {}, which the shop does not have",
        edge.id, stated.value
    );
    Err(vec![
        Remark::error("no-such-electrode", message)
            .place(edge.place.clone())
            .cure(format!("one of the shop's: {}", has.join(", ")))
            .cure("a row in the shop file"),
    ])
}

/// Writes an edge down: the chosen way, or without one the way nearest to possible.
pub fn decide(
    reckoning: &mut Reckoning,
    head: &str,
    shop: &Shop,
    (section, edge): (&Section, &Edge),
    studied: &Studied,
    chosen: Option<&Candidate>,
    frame: Frame,
) -> Result<Decided, Vec<Remark>> {
    let burn = &studied.burn;
    let block = frame.height;
    let frame = burn.frame(frame);
    let relief = Relief::of(reckoning, head, shop, (frame, block));
    let setting = Setting {
        head,
        shop,
        section,
        edge,
        opening: &studied.opening,
        burn,
        height: frame.height,
        steel_rate: frame.steel_rate,
        relief,
    };
    let mut contour = blank(reckoning, setting, frame);
    if edge.start.at_block_edge() {
        return edge_start::decide(reckoning, setting, studied, chosen, (contour, frame.density));
    }
    let mut remarks = studied.left_out.clone();
    let way = chosen.or_else(|| studied.looked.nearest());
    let Some(way) = way else {
        no_wire_holds_it(reckoning, setting, &studied.terms, &mut contour, &mut remarks);
        return Ok(Decided { contour, cut: None, remarks });
    };
    let cutting = wiring::recorded(reckoning, setting, &studied.cuttings[way.cutting]);
    let hole = burn.made(reckoning, setting, way.tool);
    let start = start(reckoning, setting, &hole, way);
    let bounds = candidate::bounds(reckoning, setting, &hole, &cutting, (way.place, way.lead_in.as_ref()));
    let starts = bounds.iter().all(|bound| {
        bound.holds() || matches!(bound.name, "corners" | "bay" | "piece" | "print-radius" | "wire-height")
    });
    contour.start_limits = start_limits(reckoning, setting, &hole, &bounds);
    contour.missed_corners = missed(reckoning, head, &cutting);
    contour.start = starts.then_some(start);
    if !way.holds() {
        refuse(reckoning, setting, studied, (way, &hole), &mut contour, &mut remarks);
    }
    remarks.extend(hold_point::remarks(setting, contour.start.as_ref().filter(|_| chosen.is_some())));
    remarks.extend(hanging(setting, studied));
    let cut = match (chosen, &way.lead_in) {
        (Some(_), Some(lead_in)) => {
            let tilted_in = way.tilted_in.as_ref();
            let entrance =
                Entrance { hole: way.place, exit: hole.light.value, lead_in, tilted_in, joint: burn.ground };
            let (wired, cores) = wiring::of(reckoning, setting, cutting, entrance, frame.density)?;
            remarks.extend(wired.remarks(setting, &cores));
            contour.cores = cores;
            contour.wire = Some(wired.entry(reckoning, setting));
            Some(wired)
        }
        _ => None,
    };
    Ok(Decided { contour, cut, remarks })
}

/// What all edges of a section share.
#[derive(Debug, Clone, Copy)]
pub struct Frame {
    /// Height of the block, mm.
    pub height: Figure,
    /// Density of its steel, g/cm3.
    pub density: Figure,
    /// Rate of a main cut in its steel over that in D2.
    pub steel_rate: Figure,
    /// Land, mm.
    pub land: Figure,
    /// Relief, degrees.
    pub relief: Figure,
}

fn blank(reckoning: &mut Reckoning, setting: Setting, frame: Frame) -> published::Contour {
    let (head, opening, edge) = (setting.head, setting.opening, setting.edge);
    let mut same = |name: &str, meaning, symbol, unit, of: Figure| {
        reckoning
            .measured(At(head, name), what(meaning, symbol, unit), of.value, "the section's", &[(symbol, of)])
            .value
    };
    let land_mm = same("land_mm", "straight cutting height", "l", "mm", frame.land);
    let relief_is = what("relief per side", "beta", "deg");
    let relief_deg = match opening.is_outside() {
        true => reckoning.chosen(
            At(head, "relief_deg"),
            relief_is,
            0.0,
            "the outside of a piece is cut straight",
            &[],
        ),
        false => {
            let inputs = [("beta", frame.relief)];
            reckoning.measured(
                At(head, "relief_deg"),
                relief_is,
                frame.relief.value,
                "the section's",
                &inputs,
            )
        }
    };
    let relief_deg = relief_deg.value;
    let tolerance = reckoning.known(
        At(head, "tolerance_mm"),
        what("plus or minus on the finished edge", "T", "mm"),
        &edge.tolerance,
    );
    let corner = candidate::corner_tolerance(reckoning, setting);
    published::Contour {
        id: edge.id.clone(),
        drawing: published::ContourDrawing { file: String::new(), outline: String::new(), at_mm: opening.at },
        side: match edge.side {
            job::Contour::Inside => published::Side::Inside,
            job::Contour::Outside => published::Side::Outside,
        },
        cut: match edge.cut.value {
            job::Cut::Pierce => published::Cut::Pierce,
            job::Cut::Blank => published::Cut::Blank,
            job::Cut::Finished => published::Cut::Finished,
        },
        target: bulges(&opening.target),
        drawn: bulges(&opening.drawn),
        clearance_per_side_mm: opening.clearance.value,
        size_shift_per_side_mm: Some(opening.shift.value),
        outside_radius_mm: edge.outside_radius.as_ref().map(|radius| radius.value),
        grind_stock_mm: grind_stock(edge),
        land_mm,
        relief_deg,
        corner_tolerance_mm: corner.value,
        corner_radius_mm: edge.corner_radius.as_ref().map(|known| known.value),
        tolerance_mm: tolerance.value,
        start: None,
        start_limits: published::StartLimits { largest_hole_mm: 0.0, bounds: Vec::new(), cures: Vec::new() },
        wire: None,
        missed_corners: Vec::new(),
        cores: Vec::new(),
        islands: Vec::new(),
        narrowest: opening.narrowest.as_ref().map(Narrow::published),
        punch: None,
        moved_mm: None,
        fitted_mm: None,
    }
}

/// Stock on the faces of a piece; nothing where none is stated.
fn grind_stock(edge: &Edge) -> Option<[f64; 4]> {
    let sides = &edge.grind.sides;
    let stock = |i: usize| sides[i].as_ref().map_or(0.0, |stock| stock.value);
    sides.iter().any(Option::is_some).then(|| [0, 1, 2, 3].map(stock))
}

/// The vertices of an outline as they are published.
pub fn bulges(outline: &Outline) -> Vec<BulgeVertex> {
    outline.vertices().iter().map(|v| [v.point.x, v.point.y, v.bulge]).collect()
}

fn start(reckoning: &mut Reckoning, setting: Setting, hole: &Hole, way: &Candidate) -> published::Start {
    let head = setting.head;
    let away = candidate::distance(reckoning, setting, (hole, way.place));
    let electrode = hole.burned.map(|terms| electrode(reckoning, setting, terms));
    let depth = reckoning.measured(
        At(head, "start.depth_mm"),
        what("depth of the hole, overtravel excluded", "z", "mm"),
        hole.depth.value,
        "through all the metal that is there",
        &[("z", hole.depth)],
    );
    let room = reckoning.rule(At(head, "start.room_mm"), &rules::ROOM, [away, hole.takes, hole.chance]);
    let linear = reckoning.rule(
        At(head, "start.room_linear_mm"),
        &rules::ROOM_LINEAR,
        [away, hole.takes, hole.position, hole.size],
    );
    let may_lie = hole.worst.is_none().then(|| {
        let at = At(head, "start.may_lie_radius_mm");
        reckoning.rule(at, &rules::MAY_LIE, [hole.spreads, hole.rest, hole.position]).value
    });
    let sure = candidate::clean_up(reckoning, setting, hole, way.place);
    let nearest = setting.opening.target.nearest(hole.worst.unwrap_or(way.place)).point;
    let measured = setting.burn.measured.as_ref().map(|measured| measured.entry());
    let ground = setting.burn.ground.as_ref();
    let half_round = ground.map(|over| half_round::entry(reckoning, head, (setting.shop, way.tool), over));
    published::Start {
        kind: match hole.burned {
            Some(_) => published::StartKind::Burned,
            None => published::StartKind::HalfGround,
        },
        x_mm: way.place.x,
        y_mm: way.place.y,
        hole_diameter_mm: published::HoleDiameter { entry: hole.entry.value, exit: hole.exit.value },
        electrode_mm: electrode,
        depth_mm: depth.value,
        room_mm: room.value,
        room_linear_mm: linear.value,
        clean_up_probability: sure.value,
        nearest_edge_mm: Some([nearest.x, nearest.y]),
        may_lie_radius_mm: may_lie,
        position: (hole.burned.is_some() && measured.is_none()).then(|| burn::position(setting.burn.method)),
        measured,
        back_bore: setting.burn.entry(),
        half_round,
    }
}

/// The electrode: stated, or one of the shop's.
fn electrode(reckoning: &mut Reckoning, setting: Setting, terms: Terms) -> f64 {
    let at = At(setting.head, "start.electrode_mm");
    let meaning = what("electrode", "e", "mm");
    let why =
        "of the shop's electrodes the one whose hole keeps every bound with the least whole time and risk";
    let one = terms.electrode;
    match &setting.edge.start.electrode {
        Some(stated) => reckoning.known(at, meaning, stated).value,
        None => reckoning.chosen(at, meaning, one.value, why, &[("e", one)]).value,
    }
}

fn start_limits(
    reckoning: &mut Reckoning,
    setting: Setting,
    hole: &Hole,
    bounds: &[candidate::BoundCheck],
) -> published::StartLimits {
    let head = setting.head;
    let largest = reckoning.rule(
        At(head, "start_limits.largest_hole_mm"),
        &rules::LARGEST,
        [hole.entry, setting.opening.inscribed, hole.takes, hole.chance],
    );
    let bounds = self::bounds(reckoning, head, bounds);
    published::StartLimits { bounds, largest_hole_mm: largest.value, cures: Vec::new() }
}

/// Bounds as they are published.
pub fn bounds(
    reckoning: &mut Reckoning,
    head: &str,
    bounds: &[candidate::BoundCheck],
) -> Vec<published::Bound> {
    let mut same = |i: usize, name: &str, meaning, symbol, of: Figure| {
        let key = format!("start_limits.bounds.{i}.{name}");
        reckoning
            .measured(
                At(head, &key),
                what(meaning, symbol, "mm"),
                of.value,
                "the number it is held against",
                &[(symbol, of)],
            )
            .value
    };
    let bounds = bounds.iter().enumerate().map(|(i, bound)| published::Bound {
        bound: bound.name.to_owned(),
        have_mm: same(i, "have_mm", "what there is", "have", bound.have),
        need_mm: same(i, "need_mm", "what it takes", "need", bound.need),
        holds: bound.holds(),
    });
    bounds.collect()
}

/// Corners that the last pass leaves.
pub fn missed(reckoning: &mut Reckoning, head: &str, cutting: &Cutting) -> Vec<published::MissedCorner> {
    let of = |(i, miss): (usize, &outline::Miss)| {
        let key = format!("missed_corners.{i}.depth_mm");
        let depth = reckoning.measured(
            At(head, &key),
            what("depth of the metal left in this corner", "m", "mm"),
            miss.depth,
            "distance from the edge to what the last pass's radius reaches, found to 1 nm along the edge",
            &[],
        );
        published::MissedCorner { x_mm: miss.place.x, y_mm: miss.place.y, depth_mm: depth.value }
    };
    cutting.missed.iter().enumerate().map(of).collect()
}

/// No wire of the shop has passes for this tolerance.
pub fn no_wire_holds_it(
    reckoning: &mut Reckoning,
    setting: Setting,
    terms: &[Terms],
    contour: &mut published::Contour,
    remarks: &mut Vec<Remark>,
) {
    let tightest = reckoning.measured(
        At(setting.head, "wire.tightest_tolerance_mm"),
        what("tightest tolerance that the shop's wires hold", "T_min", "mm"),
        setting.shop.cutting.tightest_tolerance(),
        "the row of the tolerance table with the most skims",
        &[],
    );
    let asked = reckoning.known(
        At(setting.head, "tolerance_mm"),
        what("plus or minus on the finished edge", "T", "mm"),
        &setting.edge.tolerance,
    );
    let bound = candidate::BoundCheck { name: "tolerance", have: asked, need: tightest };
    if let Some(smallest) =
        terms.iter().enumerate().min_by(|a, b| a.1.electrode.value.total_cmp(&b.1.electrode.value))
    {
        let row = match setting.burn.ground {
            Some(_) => half_round::wheels(setting.shop).last().copied().unwrap_or(0),
            None => smallest.0,
        };
        let hole = setting.burn.made(reckoning, setting, row);
        contour.start_limits = start_limits(reckoning, setting, &hole, &[bound]);
    } else {
        contour.start_limits = edge_start::limits_of(reckoning, setting, &[bound]);
    }
    contour.start_limits.cures.push(published::Cure {
        change: format!("a tolerance of {} or more", tightest.value),
        room_mm: None,
    });
    let message = format!(
        "edge `{}`: plus or minus {} is asked, the shop's wires hold {} with the skims they have",
        setting.edge.id, asked.value, tightest.value
    );
    remarks.push(Remark::warning("not-in-this-shop", message).place(setting.edge.place.clone()));
}

fn refuse(
    reckoning: &mut Reckoning,
    setting: Setting,
    studied: &Studied,
    (way, hole): (&Candidate, &Hole),
    contour: &mut published::Contour,
    remarks: &mut Vec<Remark>,
) {
    let cures = cures::of(setting, way, &studied.cuttings, hole);
    let mut remark = limits::refusal(setting, way, hole, contour.start_limits.largest_hole_mm);
    for (i, cure) in cures.into_iter().enumerate() {
        let key = format!("start_limits.cures.{i}.room_mm");
        let room = cure.room.map(|room| {
            let meaning = what("room of the hole with this cure", "m", "mm");
            let how =
                "the room rule with this change made, where most room is or where the job states the hole";
            reckoning
                .measured(At(setting.head, &key), meaning, room, how, &[("x", setting.opening.inscribed)])
                .value
        });
        remark = remark.cure(match room {
            Some(room) => format!("{}: room {room:.3}", cure.change),
            None => cure.change.clone(),
        });
        contour.start_limits.cures.push(published::Cure { change: cure.change, room_mm: room });
    }
    remarks.push(remark);
}

/// The remark on allowances that the verdict hangs on.
fn hanging(setting: Setting, studied: &Studied) -> Option<Remark> {
    let found = limits::hangs_on(setting, &studied.cuttings, &studied.terms);
    let list: Vec<String> = found
        .iter()
        .map(|(name, factor)| {
            format!("{name} {}", if *factor < 1.0 { "were half" } else { "were half as much again" })
        })
        .collect();
    let message = format!("edge `{}`: the verdict would turn if {}", setting.edge.id, list.join(", or if "));
    (!list.is_empty()).then(|| Remark::note("verdict-hangs-on", message).place(setting.edge.place.clone()))
}
