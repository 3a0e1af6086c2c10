//! Writes the effective shop file: every value in force, each with where it came from.

use crate::known::{From, Known};
use crate::shop::Shop;
use std::fmt::Display;

impl Shop {
    /// The effective shop as a shop file in mm. Reading it back gives the same numbers.
    pub fn to_toml(&self) -> String {
        let mut page = Page::default();
        page.plain("name", &quoted(&self.name));
        page.plain("units", "\"mm\"");
        page.plain("currency", &quoted(&self.currency));
        self.write_electrodes(&mut page);
        self.write_wires(&mut page);
        self.write_allowance(&mut page);
        self.write_dialect(&mut page);
        self.write_cutting(&mut page);
        self.write_core(&mut page);
        self.write_order(&mut page);
        self.write_alignment(&mut page);
        page.head("[press]");
        page.value("force_kn", &self.press.force_kn);
        page.value("use_at_most", &self.press.use_at_most);
        self.write_burner(&mut page);
        self.write_guides(&mut page);
        self.write_land(&mut page);
        self.write_half_round(&mut page);
        page.text
    }

    fn write_electrodes(&self, page: &mut Page) {
        for row in &self.electrodes {
            page.head("[[electrode]]");
            page.value("diameter", &row.diameter);
            page.value("overcut", &row.overcut);
            page.value("bellmouth", &row.bellmouth);
            page.value("max_depth", &row.max_depth);
            page.value("rate_mm_per_min", &row.rate_mm_per_min);
            page.value("wear_percent", &row.wear_percent);
            page.value("drift_per_mm", &row.drift_per_mm);
            page.value("recast", &row.recast);
        }
    }

    fn write_wires(&self, page: &mut Page) {
        for row in &self.wires {
            page.head("[[wire]]");
            page.value("diameter", &row.diameter);
            page.value("gap", &row.gap);
            page.line("offsets", &format!("{:?}", row.offsets.value), &row.offsets.from);
            page.line("rates", &format!("{:?}", row.rates.value), &row.rates.from);
            if let Some(height) = &row.max_height {
                page.value("max_height", height);
            }
            page.value("tab", &row.tab);
        }
    }

    fn write_allowance(&self, page: &mut Page) {
        let allowance = &self.allowance;
        page.head("[allowance]");
        page.value("position", &allowance.position);
        page.value("position_following", &allowance.position_following);
        page.value("position_remounted", &allowance.position_remounted);
        page.value("measuring", &allowance.measuring);
        page.value("measure_below", &allowance.measure_below);
        page.value("size", &allowance.size);
        if let Some(drift) = &allowance.drift_per_mm {
            page.value("drift_per_mm", drift);
        }
        if let Some(recast) = &allowance.recast {
            page.value("recast", recast);
        }
        page.value("clean_up_stock", &allowance.clean_up_stock);
        page.value("threading_room", &allowance.threading_room);
        page.value("stand_off", &allowance.stand_off);
    }

    fn write_dialect(&self, page: &mut Page) {
        let dialect = &self.dialect;
        page.head("[dialect]");
        page.line("units", &quoted(dialect.units.value.word()), &dialect.units.from);
        page.line("units_words", &quoted(dialect.units_words.value.word()), &dialect.units_words.from);
        if let Some(decimals) = &dialect.decimals {
            page.value("decimals", decimals);
        }
        page.line("output", &quoted(dialect.output.value.word()), &dialect.output.from);
        page.value("thread", &dialect.thread);
        page.value("cut", &dialect.cut);
        page.value("stop", &dialect.stop);
        page.value("end", &dialect.end);
        page.value("least_lead_in", &dialect.least_lead_in);
    }

    fn write_cutting(&self, page: &mut Page) {
        let cutting = &self.cutting;
        page.head("[cutting]");
        page.value("starved_factor", &cutting.starved_factor);
        page.value("starved_below", &cutting.starved_below);
        page.value("skim_feed_factor", &cutting.skim_feed_factor);
        page.value("skim_feed_limit_mm_per_min", &cutting.skim_feed_limit);
        page.value("corner_feed_factor", &cutting.corner_feed_factor);
        page.value("lead_in_feed_factor", &cutting.lead_in_feed_factor);
        page.value("overlap", &cutting.overlap);
        page.value("threading_minutes", &cutting.threading_minutes);
        page.value("wire_change_minutes", &cutting.wire_change_minutes);
        page.value("setup_minutes", &cutting.setup_minutes);
        page.value("stop_minutes", &cutting.stop_minutes);
        page.value("core_stop_from_g", &cutting.core_stop_from_g);
        page.value("hole_minutes_attended", &cutting.hole_minutes_attended);
        page.value("remake_minutes", &cutting.remake_minutes);
        let pairs: Vec<String> = cutting
            .passes_for
            .value
            .iter()
            .map(|(tolerance, skims)| format!("[{tolerance}, {skims}]"))
            .collect();
        page.line("passes_for", &format!("[{}]", pairs.join(", ")), &cutting.passes_for.from);
    }

    fn write_core(&self, page: &mut Page) {
        let core = &self.core;
        page.head("[core]");
        page.value("hold_from_g", &core.hold_from_g);
        page.value("friction", &core.friction);
        page.value("tab_stress_mpa", &core.tab_stress_mpa);
        page.value("piece_tab", &core.piece_tab);
        page.value("frame", &core.frame);
        page.value("beside", &core.beside);
        page.value("sliver_below", &core.sliver_below);
    }

    fn write_alignment(&self, page: &mut Page) {
        let alignment = &self.alignment;
        page.head("[alignment]");
        page.value("pick_up", &alignment.pick_up);
        page.value("positioning", &alignment.positioning);
        page.value("squareness_per_mm", &alignment.squareness_per_mm);
        page.value("grinding", &alignment.grinding);
        page.value("measuring", &alignment.measuring);
        page.value("punch", &alignment.punch);
        page.value("share_of_clearance", &alignment.share);
    }

    fn write_burner(&self, page: &mut Page) {
        let burner = &self.burner;
        page.head("[burner]");
        page.value("electrode_length", &burner.electrode_length);
        page.value("dress_length", &burner.dress_length);
        page.line("depth", &quoted(burner.depth.value.word()), &burner.depth.from);
        page.value("retract", &burner.retract);
        page.value("dress_minutes", &burner.dress_minutes);
        page.value("change_minutes", &burner.change_minutes);
        page.value("spark_on", &burner.spark_on);
        page.value("spark_off", &burner.spark_off);
        page.value("stop", &burner.stop);
        page.value("end", &burner.end);
    }

    fn write_guides(&self, page: &mut Page) {
        page.head("[guides]");
        page.value("above", &self.guides.above);
        page.value("below", &self.guides.below);
        page.value("travel", &self.guides.travel);
    }

    fn write_land(&self, page: &mut Page) {
        let land = &self.land;
        page.head("[land]");
        page.value("relief_deg", &land.relief_deg);
        page.value("relief_stock", &land.relief_stock);
        page.value("regrind", &land.regrind);
        page.value("strokes_per_regrind", &land.strokes_per_regrind);
    }

    fn write_half_round(&self, page: &mut Page) {
        let half = &self.half_round;
        page.head("[half_round]");
        page.line("radii", &format!("{:?}", half.radii.value), &half.radii.from);
        page.value("size", &half.size);
        page.value("position", &half.position);
        page.value("depth", &half.depth);
        page.value("mismatch", &half.mismatch);
        page.value("lean_per_mm", &half.lean_per_mm);
    }

    fn write_order(&self, page: &mut Page) {
        let order = &self.order;
        page.head("[order]");
        page.line("clamp", &quoted(order.clamp.value.word()), &order.clamp.from);
        page.value("rough_all_below", &order.rough_all_below);
    }
}

/// The file as it grows.
#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn head(&mut self, head: &str) {
        self.text.push('\n');
        self.text.push_str(head);
        self.text.push('\n');
    }

    fn plain(&mut self, key: &str, value: &str) {
        self.text.push_str(&format!("{key} = {value}\n"));
    }

    fn value<T: Display>(&mut self, key: &str, known: &Known<T>) {
        self.line(key, &known.value.to_string(), &known.from);
    }

    fn line(&mut self, key: &str, value: &str, from: &From) {
        self.text.push_str(&format!("{key} = {value}  # {}\n", origin(from)));
    }
}

/// Text as TOML writes it.
fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}

/// Where a value came from, on one line.
fn origin(from: &From) -> String {
    let words = match from {
        From::File { file, line, column, text } => format!("{file}, line {line}, column {column}: {text}"),
        From::Starting { row, note } => format!("built-in {row}: {note}"),
        From::Nearest { diameter_mm, note } => format!("built-in row of {diameter_mm} mm: {note}"),
        From::Default { why } => (*why).to_owned(),
        From::Fact { id, cite, .. } => format!("{id}: {cite}"),
    };
    // A value may have been written over several lines; a comment ends with its line.
    let mut line = String::new();
    for character in words.chars() {
        line.push(if character.is_control() { ' ' } else { character });
    }
    line
}
