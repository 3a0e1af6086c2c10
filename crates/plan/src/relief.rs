//! The relief below a land: how far the wire tilts, where its pivot lies, what the machine must be able to do.

use crate::candidate::BoundCheck;
use crate::contour::Frame;
use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::relief as rules;
use job::{Known, Section, Shop};
use package as published;
use remark::Remark;

/// Land and height closer than this are the same, mm: one of them may have been converted from inches.
const SAME: f64 = 1e-9;

/// A relief that a wire cuts.
#[derive(Debug, Clone, Copy)]
pub struct Relief {
    /// Straight cutting height above it: the depth of the wire's pivot.
    pub land: Figure,
    /// Height of the cut: land and relief.
    pub height: Figure,
    /// Tangent of its angle.
    pub tangent: Figure,
    /// One over the cosine of its angle.
    pub secant: Figure,
    /// Metal that the tilted wire leaves.
    pub stock: Figure,
    /// Where the guides hold the wire.
    pub guides: Guides,
}

/// Heights of the guides, section coordinates.
#[derive(Debug, Clone, Copy)]
pub struct Guides {
    /// Of the upper one.
    pub upper: Figure,
    /// Of the lower one.
    pub lower: Figure,
    /// From one to the other it goes aside by this.
    pub aside: Figure,
    /// What it can go aside.
    pub travel: Figure,
}

impl Relief {
    /// The relief of one edge; none where it is straight through. `block`: height of the block, over whatever bore.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        shop: &Shop,
        (frame, block): (Frame, Figure),
    ) -> Option<Self> {
        if frame.relief.value <= 0.0 {
            return None;
        }
        let radians = frame.relief.value.to_radians();
        let mut of_angle = |name, meaning, symbol, value, how| {
            let at = At(head, name);
            reckoning.measured(at, what(meaning, symbol, ""), value, how, &[("beta", frame.relief)])
        };
        let tangent =
            of_angle("relief.tangent", "tangent of the relief", "m", radians.tan(), "tangent of the angle");
        let secant = of_angle(
            "relief.secant",
            "how much wider a tilted wire is across",
            "c",
            1.0 / radians.cos(),
            "one over the cosine of the angle",
        );
        let stock = reckoning.known(
            At("shop:land.", "relief_stock_mm"),
            what("metal left on the relief", "k", "mm"),
            &shop.land.relief_stock,
        );
        let guides = Guides::of(reckoning, head, shop, (tangent, block));
        Some(Self { land: frame.land, height: frame.height, tangent, secant, stock, guides })
    }

    /// How far the wire goes aside of the finished edge at a depth below the face, mm; below 0 above the land's end.
    pub fn aside(&self, depth: f64) -> f64 {
        (depth - self.land.value) * self.tangent.value
    }

    /// Metal that the tilted wire leaves on the land at the face.
    pub fn wedge(&self, reckoning: &mut Reckoning, head: &str) -> Figure {
        let at = At(head, "relief.wedge_mm");
        reckoning.rule(at, &rules::WEDGE, [self.land, self.tangent, self.stock])
    }

    /// Where the surface that the tilted wire leaves meets the land, and how much farther it lies than the edge at a depth.
    pub fn opens(&self, reckoning: &mut Reckoning, head: &str, depth: Figure) -> [Figure; 2] {
        let at = At(head, "start.terms.relief_from_mm");
        let from = reckoning.rule(at, &rules::LONGEST, [self.land, self.stock, self.tangent, self.height]);
        let at = At(head, "start.terms.opens_mm");
        [from, reckoning.rule(at, &rules::OPENS, [self.tangent, depth, from])]
    }

    /// What tilting asks of the machine, and of the wire that cuts the land: one that clears all of the wedge at once.
    pub fn bounds(&self, reckoning: &mut Reckoning, head: &str, main: Figure) -> [BoundCheck; 2] {
        let wedge = self.wedge(reckoning, head);
        [
            BoundCheck { name: "guide-travel", have: self.guides.travel, need: self.guides.aside },
            BoundCheck { name: "wedge", have: main, need: wedge },
        ]
    }
}

impl Guides {
    fn of(reckoning: &mut Reckoning, head: &str, shop: &Shop, (tangent, block): (Figure, Figure)) -> Self {
        let mut known = |name, meaning, symbol, known: &Known<f64>| {
            reckoning.known(At("shop:guides.", name), what(meaning, symbol, "mm"), known)
        };
        let above = known("above_mm", "upper guide over the block", "a", &shop.guides.above);
        let below = known("below_mm", "lower guide under the block", "b", &shop.guides.below);
        let travel = known("travel_mm", "how far the upper guide goes aside", "U_max", &shop.guides.travel);
        let lower = reckoning.rule(At(head, "relief.lower_z_mm"), &rules::LOWER, [block, below]);
        let aside =
            reckoning.rule(At(head, "relief.aside_mm"), &rules::ASIDE, [tangent, block, above, below]);
        Self { upper: above, lower, aside, travel }
    }

    /// From the lower guide to the upper one, mm.
    pub fn apart(&self) -> f64 {
        self.upper.value - self.lower.value
    }
}

/// Land and relief of a section, as the job states them or by rule.
pub fn stated(
    reckoning: &mut Reckoning,
    (job, shop): (&job::Job, &Shop),
    section: &Section,
    height: Figure,
) -> Result<(Figure, Figure), Vec<Remark>> {
    let head = format!("{}.", section.id);
    let relief_is = what("relief per side", "beta", "deg");
    let land_is = what("straight cutting height", "l", "mm");
    let relieved = section.relief_deg.as_ref().is_some_and(|relief| relief.value > 0.0);
    let land = match &section.land {
        Some(land) => reckoning.known(At(&head, "land_mm"), land_is, land),
        None if relieved => by_rule(reckoning, job, section, &head)?,
        None => reckoning.chosen(
            At(&head, "land_mm"),
            land_is,
            height.value,
            "land left out while straight through: the block's height",
            &[("h", height)],
        ),
    };
    let short = land.value < height.value - SAME && !section.bored_to_land();
    let relief = match &section.relief_deg {
        Some(relief) => reckoning.known(At(&head, "relief_deg"), relief_is, relief),
        None if short => {
            let of_shop = reckoning.known(At("shop:land.", "relief_deg"), relief_is, &shop.land.relief_deg);
            let why = "relief left out below a land that is shorter than the block: the shop's";
            reckoning.chosen(At(&head, "relief_deg"), relief_is, of_shop.value, why, &[("beta", of_shop)])
        }
        None => reckoning.chosen(
            At(&head, "relief_deg"),
            relief_is,
            0.0,
            "relief left out: straight through",
            &[],
        ),
    };
    Ok((land, relief))
}

/// The land that common practice gives a sheet.
fn by_rule(
    reckoning: &mut Reckoning,
    job: &job::Job,
    section: &Section,
    head: &str,
) -> Result<Figure, Vec<Remark>> {
    let Some(sheet) = &job.sheet else {
        let message = format!(
            "section `{}` leaves out the land above its relief, and without a sheet no rule gives one",
            section.id
        );
        let fault = Remark::error("no-land", message).place(section.place.clone());
        return Err(vec![fault.cure("state `land`")]);
    };
    let thickness = reckoning.known(
        At("job:sheet.", "thickness_mm"),
        what("thickness of the sheet", "t", "mm"),
        &sheet.thickness,
    );
    Ok(reckoning.rule(At(head, "land_mm"), &rules::LAND, [thickness]))
}

/// What keeps an edge's land and relief from being made together.
pub fn check(section: &Section, edge: &job::Edge, frame: Frame) -> Result<(), Vec<Remark>> {
    let (land, height) = (frame.land.value, frame.height.value);
    let relieved = frame.relief.value > 0.0;
    let (code, message, cure) = match (relieved, land < height - SAME) {
        (true, false) => (
            "no-room-for-relief",
            format!(
                "edge `{}`: above {height} of metal a land of {land} leaves nothing for the relief",
                edge.id
            ),
            "a shorter `land`, or a bore that is less deep",
        ),
        (false, true) => (
            "land-not-made",
            format!(
                "edge `{}`: a land of {land} is asked, its back bore does not clear the opening, and the relief is 0: {height} stays straight",
                edge.id
            ),
            "a wider bore, or `relief_deg` above 0",
        ),
        _ => return Ok(()),
    };
    let place = if relieved { section.place.clone() } else { edge.place.clone() };
    Err(vec![Remark::error(code, message).place(place).cure(cure)])
}

/// How long a land lasts that is shorter than its block.
pub fn lasts(
    reckoning: &mut Reckoning,
    shop: &Shop,
    section: &Section,
    (land, height): (Figure, Figure),
) -> Option<published::Land> {
    if land.value >= height.value - SAME {
        return None;
    }
    let head = format!("{}.land.", section.id);
    let mut of_shop = |name, meaning, symbol, unit, known: &Known<f64>| {
        reckoning.known(At("shop:land.", name), what(meaning, symbol, unit), known)
    };
    let one = of_shop("regrind_mm", "what one regrind takes off", "r", "mm", &shop.land.regrind);
    let strokes = of_shop(
        "strokes_per_regrind",
        "strokes between two regrinds",
        "s",
        "strokes",
        &shop.land.strokes_per_regrind,
    );
    let mut same = |name, meaning, symbol, of: Figure| {
        let how = "the number that holds for all of the section";
        reckoning.measured(At(&head, name), what(meaning, symbol, "mm"), of.value, how, &[(symbol, of)]).value
    };
    let land_mm = same("land_mm", "straight cutting height, new", "l", land);
    let regrind_mm = same("regrind_mm", "what one regrind takes off", "r", one);
    let regrinds = reckoning.rule(At(&head, "regrinds"), &rules::REGRINDS, [land, one]);
    let lasts = reckoning.rule(At(&head, "strokes"), &rules::STROKES, [regrinds, strokes]);
    Some(published::Land { land_mm, regrind_mm, regrinds: regrinds.value as u32, strokes: lasts.value })
}
