//! What holds a section, on a line of the answer: which holes stand where, and what has no room.

use package::{Fastening, FasteningHole, FasteningKind};

/// The lines of a section.
pub fn lines(section: &str, fastening: &Fastening) -> String {
    let mut out = String::new();
    if !fastening.holes.is_empty() {
        let holes: Vec<String> = fastening.holes.iter().map(hole).collect();
        out.push_str(&format!("fasten {section}, while soft: {}\n", holes.join("; ")));
    }
    for refused in &fastening.refused {
        out.push_str(&format!(
            "! fasten {section}: no room for {}: {} short {:.2}\n",
            plural(refused.kind),
            refused.bound,
            refused.need_mm - refused.have_mm
        ));
        refused.cures.iter().for_each(|cure| out.push_str(&format!("    {cure}\n")));
    }
    out
}

fn hole(hole: &FasteningHole) -> String {
    let what = match (&hole.thread, hole.kind) {
        (Some(thread), FasteningKind::JackOut) => format!("{thread} to jack out"),
        (Some(thread), _) => thread.clone(),
        (None, _) => format!("dowel {}", hole.diameter_mm),
    };
    format!("{what} X {:+.1} Y {:+.1}", hole.x_mm, hole.y_mm)
}

fn plural(kind: FasteningKind) -> &'static str {
    match kind {
        FasteningKind::Screw => "screws",
        FasteningKind::Dowel => "dowels",
        FasteningKind::JackOut => "a thread to jack it out by",
    }
}
