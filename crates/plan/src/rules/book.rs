//! Every rule that the planner applies, in one list with one shape: what checks and lists of rules go through.

use crate::rule::Rule;
use package::Basis;

type Formula = Box<dyn Fn(&[f64]) -> Option<f64>>;
type Holds = Box<dyn Fn(&[f64]) -> bool>;

/// A rule with its name, whatever the number of its inputs.
pub struct ListedRule {
    /// File and name of the constant, as in `cut.CLEARANCE_SHARE`.
    pub id: &'static str,
    /// What the result is, in words.
    pub meaning: &'static str,
    /// Letter of the result.
    pub symbol: &'static str,
    /// Unit of the result.
    pub unit: &'static str,
    /// The formula over `inputs`.
    pub formula: &'static str,
    /// Letters of the inputs, in order.
    pub inputs: &'static [&'static str],
    /// What kind of authority stands behind it.
    pub basis: Basis,
    /// Author, title, place; or why there is none.
    pub cite: &'static str,
    /// Where it holds, in words; none when it always does.
    pub range: Option<&'static str>,
    of: Formula,
    holds: Holds,
}

impl ListedRule {
    /// The result, whatever the range says; none if there are too many inputs or too few.
    pub fn of(&self, inputs: &[f64]) -> Option<f64> {
        (self.of)(inputs)
    }

    /// Whether the rule holds for these inputs.
    pub fn holds(&self, inputs: &[f64]) -> bool {
        (self.holds)(inputs)
    }
}

fn listed<const N: usize>(id: &'static str, rule: &'static Rule<N>) -> ListedRule {
    ListedRule {
        id,
        meaning: rule.meaning,
        symbol: rule.symbol,
        unit: rule.unit,
        formula: rule.formula,
        inputs: &rule.inputs,
        basis: rule.basis,
        cite: rule.cite,
        range: rule.range.as_ref().map(|range| range.text),
        of: Box::new(|inputs| inputs.try_into().ok().map(rule.of)),
        holds: Box::new(|inputs| match &rule.range {
            Some(range) => inputs.try_into().is_ok_and(range.holds),
            None => true,
        }),
    }
}

macro_rules! book {
    ($($file:ident: $($name:ident)*;)*) => {
        vec![$($(listed(concat!(stringify!($file), ".", stringify!($name)), &super::$file::$name)),*),*]
    };
}

/// All rules, by file. `cargo xtask checks` holds the list against the files.
pub fn rulebook() -> Vec<ListedRule> {
    book! {
        alignment: ALLOWED SQUARENESS PLAY WORST ROOT;
        burning: FLOOR STAND_OFF_BORED BREAK_THROUGH BURN_DEPTH WEAR ELECTRODE_NEED TRAVEL PROGRAM_MINUTES
            ATTENDED_MINUTES LIGHT TAKES_MEASURED MEASURED_RADIUS SIGMA_MEASURED IN_BORE;
        cavity: LIMIT CLEARANCE GROUND_TO PRESS_FORCE;
        core: WEDGES_FROM PIECE_TAB STANDS_OFF TAB_WIDTH TAB_WAY TAB_MINUTES;
        cut: CLEARANCE_SHARE CLEARANCE_ROOT BLANKING_PUNCH;
        fastening: MINOR TAP_DRILL REAM_DRILL DEPTH TAPPED_DRILLED REAMED_DRILLED TO_SIDE TO_OPENING TO_FACE
            OVER;
        force: SHEAR_FROM_TENSILE CUTTING ACROSS STRIPPING_BY_SIZE STRIPPING STRIPPING_BY_AREA SLUGS
            PUSH_THROUGH CUTTING_WORK PUSH_WORK WORK TOGETHER WORK_TOGETHER RATING NEEDED_WITH_SPRINGS
            NEEDED_WITH_PLATE SHARE_OF_RATING RESERVE;
        half_round: DIAMETER APART LIGHT LEAN TAKES TAKES_AT_LAND TAKES_ABOVE_RELIEF;
        hole: ENTRY EXIT DRIFT TAKES_AT_FACE TAKES_BELOW_BELLMOUTH RECAST_AND_STOCK TAKES_AT_BOTTOM TAKES
            TAKES_AT_LAND TAKES_ABOVE_RELIEF SIGMA_POSITION SIGMA_SIZE CHANCE ROOM ROOM_LINEAR NEED LARGEST THREADING SHORT MAY_LIE;
        joint: SINK SINK_DEPTH HEAD_HALF THREAD_HALF OPENS TO_SIDE;
        punch: OUTSIDE_CORNER OPENING_CORNER LOAD STRESS STRESS_LIMIT SLENDERNESS TRANSITION EULER JOHNSON
            RESERVE LONGEST_BY_EULER LONGEST_BY_JOHNSON WIDTH_BY_METAL ACROSS_BY_STRESS HEAD_AREA
            HEAD_PRESSURE;
        relief: LAND OFFSET AT_FACE WEDGE LONGEST OPENS ASIDE LOWER REGRINDS STROKES;
        size: PIERCE_SHIFT BLANK_SHIFT GROWTH PIERCED_CORNER;
        strength: SPREADING PRESSURE SQUEEZE LIMIT SAFETY;
        stroke: CUTS_FOR SHEARED;
        time: MAIN_FEED SKIM_FEED PASS_MINUTES BURN_MINUTES PHASE_MINUTES;
        web: WEB WALL WALL_BY_HEIGHT WALL_AT_SHARP;
        wire: SKIM_GAP UNUSED_STOCK OFFSET STOCK CORE_MASS;
    }
}
