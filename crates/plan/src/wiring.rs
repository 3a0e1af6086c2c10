//! How the chosen wire cuts an edge, written down: passes, what falls, the tab, or the rings that leave nothing to fall.

use crate::candidate::{self, Setting};
use crate::cores::{self, Entrance, Fate, FreedCore};
use crate::cutting::{Cutting, Feeds};
use crate::erosion::{self, Ring};
use crate::figure::Figure;
use crate::free::Free;
use crate::lead_in::LeadIn;
use crate::passes::Passes;
use crate::reckoning::{At, Reckoning, what};
use crate::tab::{self, Tab};
use crate::tilt_cores;
use crate::tilted_cut::TiltedCut;
use job::Contour;
use outline::{Outline, Point};
use package::{self as published, BulgeVertex};
use remark::Remark;

/// From this on nobody lifts a core out by hand, kg: common practice, no source.
const LIFTED_FROM_KG: f64 = 10.0;

/// What a program needs of an edge.
#[derive(Debug)]
pub struct Wired {
    /// What the wire does.
    pub cutting: Cutting,
    /// Its feeds.
    pub feeds: Feeds,
    /// The way in.
    pub lead_in: LeadIn,
    /// The cut of the relief, before all passes.
    pub tilted: Option<TiltedCut>,
    /// The tab.
    pub tab: Option<Tab>,
    /// Rings before the main cut goes round.
    pub rings: Vec<Ring>,
    /// Whether a core is loose when the first cut has come round, and must be taken out.
    pub stops: bool,
    /// The finished edge.
    pub target: Outline,
    /// Which side of it is metal.
    pub side: Contour,
    /// Whether it begins beside the block, with no hole.
    pub beside: bool,
}

/// The same cutting with its passes written down.
pub fn recorded(reckoning: &mut Reckoning, setting: Setting, silent: &Cutting) -> Cutting {
    let row = silent.passes.row;
    let skims = silent.passes.passes.len() - 1;
    let passes = Passes::of(reckoning, setting.head, (row, &setting.shop.wires[row]), skims);
    let passes = passes.unwrap_or_else(|| silent.passes.clone());
    let tilted = silent.tilted.as_ref().zip(setting.relief);
    let tilted = tilted.map(|(tilted, relief)| tilted.recorded(reckoning, setting.head, &passes, relief));
    Cutting { passes, tilted, ..silent.clone() }
}

/// Settles what falls and what holds it.
pub fn of(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: Cutting,
    entrance: Entrance,
    density: Figure,
) -> Result<(Wired, Vec<published::Core>), Vec<Remark>> {
    if let (Some(tilted), Some(lead_in)) = (cutting.tilted.clone(), entrance.tilted_in) {
        let tilted = TiltedCut { tilted, lead_in: lead_in.clone() };
        return relieved(reckoning, setting, (cutting, tilted), entrance, density);
    }
    let opening = setting.opening;
    let pieces = |returns| {
        cores::pieces(opening, &cutting, entrance, returns).map_err(|error| {
            let message = format!("edge `{}`: {error}", setting.edge.id);
            vec![Remark::error("cores", message).place(setting.edge.place.clone())]
        })
    };
    let feeds = Feeds::of(reckoning, setting, cutting.passes.row);
    let loose = pieces(true)?;
    let rings = erosion::of(setting, &cutting, entrance, &loose).unwrap_or_default();
    let light = |piece: &outline::Leftover| {
        let mass = crate::rules::wire::CORE_MASS.of;
        mass([piece.area, setting.height.value, density.value]) < setting.shop.cutting.core_stop_from_g.value
    };
    // The wire is cut where a core is loose: it does not go back past it.
    let found = match (rings.is_empty(), loose.iter().all(light)) {
        (false, _) => Vec::new(),
        (true, true) => loose,
        (true, false) => pieces(false)?,
    };
    let freed = cores::freed(reckoning, setting, found, density);
    let tab = tab::of(reckoning, setting, &cutting, entrance.lead_in, (feeds, &freed));
    let held = |i: usize| tab.as_ref().is_some_and(|tab| tab.core == i);
    let stops = freed.iter().enumerate().any(|(i, core)| core.fate != Fate::Flushed && !held(i));
    let cores = freed.iter().enumerate().map(|(i, core)| entry(core, held(i))).collect();
    let (lead_in, target, side) = (entrance.lead_in.clone(), opening.target.clone(), opening.free().side);
    let beside = setting.edge.start.at_block_edge();
    Ok((Wired { cutting, feeds, lead_in, tilted: None, tab, rings, stops, target, side, beside }, cores))
}

/// The same below a land: the tilted wire frees what falls, and the passes only clear the land.
fn relieved(
    reckoning: &mut Reckoning,
    setting: Setting,
    (cutting, tilted): (Cutting, TiltedCut),
    entrance: Entrance,
    density: Figure,
) -> Result<(Wired, Vec<published::Core>), Vec<Remark>> {
    let bodies = |returns| {
        tilt_cores::bodies(&tilted.tilted, entrance, &tilted.lead_in, returns).map_err(|error| {
            let message = format!("edge `{}`: {error}", setting.edge.id);
            vec![Remark::error("cores", message).place(setting.edge.place.clone())]
        })
    };
    let feeds = Feeds::of(reckoning, setting, cutting.passes.row);
    let loose = bodies(true)?;
    // The wire is cut where a core is loose: it does not go back past it.
    let found = match loose.iter().all(|body| tilt_cores::is_light(setting, body, density)) {
        true => loose,
        false => bodies(false)?,
    };
    let freed = tilt_cores::freed(reckoning, setting, found, density);
    let stops = freed.iter().any(|core| core.fate != Fate::Flushed);
    let cores = freed.iter().map(|core| entry(core, false)).collect();
    let (lead_in, target) = (entrance.lead_in.clone(), setting.opening.target.clone());
    let (tilted, tab, rings, side) = (Some(tilted), None, Vec::new(), Contour::Inside);
    let beside = false;
    Ok((Wired { cutting, feeds, lead_in, tilted, tab, rings, stops, target, side, beside }, cores))
}

fn entry(core: &FreedCore, held: bool) -> published::Core {
    published::Core {
        area_mm2: core.area.value,
        mass_g: core.mass.value,
        held,
        outline: core.piece.outline.iter().map(|p| [p.x, p.y, 0.0]).collect(),
    }
}

impl Wired {
    /// Its free side.
    pub fn free(&self) -> Free<'_> {
        Free { edge: &self.target, side: self.side }
    }

    /// Whether a piece is cut out all round it.
    pub fn is_piece(&self) -> bool {
        self.side == Contour::Outside
    }

    /// Whether this pass ends at a tab.
    pub fn ends_at_tab(&self, pass: usize) -> bool {
        self.tab.is_some() && (pass == 0 || self.is_piece())
    }

    /// Whether anybody must be there while it is cut.
    pub fn attended(&self) -> bool {
        self.stops || self.tab.is_some()
    }

    /// The passes that come after its first cut, which is the main one or that of its relief.
    pub fn after_first(&self) -> std::ops::Range<usize> {
        usize::from(self.tilted.is_none())..self.cutting.passes.passes.len()
    }

    /// Whether the wire goes back to where it came from at the end of a pass. Where somebody is there for what falls, or a piece
    /// hangs on its tab, it is cut where it is.
    pub fn goes_back(&self, pass: usize) -> bool {
        let main = pass == 0 && self.tilted.is_none();
        !(self.is_piece() || main && self.attended())
    }

    /// What a person should know of what falls.
    pub fn remarks(&self, setting: Setting, cores: &[published::Core]) -> Vec<Remark> {
        self.not_held(setting, cores).into_iter().chain(heavy(setting, cores)).collect()
    }

    fn not_held(&self, setting: Setting, cores: &[published::Core]) -> Option<Remark> {
        let loose = cores.iter().filter(|core| !core.held);
        let heaviest = loose.map(|core| core.mass_g).fold(0.0, f64::max);
        // What a joint parts is spoken of with the joint.
        let parted = setting.burn.ground.is_some();
        (heaviest >= setting.shop.core.hold_from_g.value && !parted).then(|| {
            let message = format!(
                "edge `{}` frees a core of {heaviest:.2} g that no tab can hold: attended, with the core held by magnet or clamp before the main cut ends, never by hand",
                setting.edge.id
            );
            Remark::warning("core-not-held", message).place(setting.edge.place.clone())
        })
    }

    /// What the main cut goes further than once around with its overlap, mm; negative where it stops at a tab.
    fn further(&self) -> f64 {
        let rings: f64 = self.rings.iter().map(|ring| ring.way.perimeter()).sum();
        match &self.tab {
            Some(tab) => rings - tab.way - self.lead_in.overlap,
            None => rings,
        }
    }

    /// Its entry in the plan; program and blocks are not known yet.
    pub fn entry(&self, reckoning: &mut Reckoning, setting: Setting) -> published::Wire {
        let diameter = reckoning.chosen(
            At(setting.head, "wire.diameter_mm"),
            what("wire", "d", "mm"),
            self.cutting.passes.wire.value,
            "of the shop's wires the one that keeps every bound with the least whole time and risk over the section",
            &[("d", self.cutting.passes.wire)],
        );
        let passes =
            (0..self.cutting.passes.passes.len()).map(|i| self.pass(reckoning, setting, i)).collect();
        published::Wire {
            diameter_mm: diameter.value,
            passes,
            lead_in: self.lead_in.way.iter().map(|p| [p.x, p.y]).collect(),
            tab: self.tab.as_ref().map(|tab| self.tab_entry(reckoning, setting, tab)),
            erosion: self.rings.iter().map(|ring| bulges(&ring.way)).collect(),
            relief: (self.tilted.as_ref())
                .map(|tilted| tilted.entry(reckoning, setting, self.feeds, &self.cutting.passes)),
        }
    }

    fn pass(&self, reckoning: &mut Reckoning, setting: Setting, i: usize) -> published::Pass {
        let key = format!("{}wire.passes.{i}.", setting.head);
        let pass = &self.cutting.passes.passes[i];
        let feed = if i == 0 { self.feeds.main } else { self.feeds.skim };
        let feed = reckoning.measured(
            At(&key, "feed_mm_per_min"),
            what("feed of this pass", "f", "mm/min"),
            feed.value,
            "main or skim feed, by the kind of pass",
            &[("f", feed)],
        );
        let further = if i == 0 || self.ends_at_tab(i) { self.further() } else { 0.0 };
        let about = (self.feeds, &self.lead_in, further, self.goes_back(i));
        let minutes = candidate::pass_minutes(reckoning, setting, &self.cutting, i, about);
        published::Pass {
            offset_mm: pass.offset.value,
            spark_gap_mm: pass.gap.value,
            stock_left_mm: pass.stock.value,
            register: None,
            feed_mm_per_min: feed.value,
            minutes: minutes.value,
            program: String::new(),
            blocks: [0, 0],
            centre: bulges(&self.cutting.centres[i][0]),
        }
    }

    fn tab_entry(&self, reckoning: &mut Reckoning, setting: Setting, tab: &Tab) -> published::Tab {
        let feed = reckoning.measured(
            At(setting.head, "wire.tab.feed_mm_per_min"),
            what("feed through the tab", "f", "mm/min"),
            self.feeds.main.value,
            "the main cut's",
            &[("f", self.feeds.main)],
        );
        let at = |place: Point| [place.x, place.y];
        published::Tab {
            width_mm: tab.width.value,
            from_mm: at(tab.from.edge),
            to_mm: at(tab.to.edge),
            feed_mm_per_min: feed.value,
            minutes: tab.minutes.value,
            program: String::new(),
            blocks: [0, 0],
            dress: tab
                .dress
                .iter()
                .map(|one| published::Dress { minutes: one.value, blocks: [0, 0] })
                .collect(),
        }
    }
}

/// What comes out of the block and is no load for one pair of hands stretched out over a machine's table.
fn heavy(setting: Setting, cores: &[published::Core]) -> Option<Remark> {
    let heaviest = cores.iter().map(|core| core.mass_g / 1e3).fold(0.0, f64::max);
    (heaviest >= LIFTED_FROM_KG).then(|| {
        let (id, what) =
            (&setting.edge.id, if setting.opening.is_outside() { "a piece" } else { "a core" });
        let message = format!(
            "edge `{id}` frees {what} of {heaviest:.1} kg: nobody holds that by hand, and it may tilt and jam as it comes free"
        );
        Remark::warning("heavy-core", message)
            .place(setting.edge.place.clone())
            .cure("carry it from below before its last metal is cut, and lift it out by gear with a thread or a magnet rated for it; local rules on lifting decide")
    })
}

fn bulges(outline: &Outline) -> Vec<BulgeVertex> {
    outline.vertices().iter().map(|v| [v.point.x, v.point.y, v.bulge]).collect()
}
