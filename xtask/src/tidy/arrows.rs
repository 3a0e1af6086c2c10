//! Which room may use which: the table of ARCHITECTURE.md, held against each room's manifest.
//!
//! Test-only and build-time dependencies count too: a proof that is tested with the planner's geometry would repeat
//! the planner's mistakes.

use super::Finding;
use toml::Table;

/// One room and the rooms that it may use.
struct Room {
    name: &'static str,
    may_use: &'static [&'static str],
}

const ROOMS: [Room; 13] = [
    Room { name: "remark", may_use: &[] },
    Room { name: "outline", may_use: &[] },
    Room { name: "strength", may_use: &["outline"] },
    Room { name: "nc", may_use: &[] },
    Room { name: "dxf", may_use: &["remark"] },
    Room { name: "drawing", may_use: &["dxf", "outline", "remark"] },
    Room { name: "job", may_use: &["remark"] },
    Room { name: "package", may_use: &["remark"] },
    Room { name: "plan", may_use: &["outline", "strength", "nc", "job", "package", "remark"] },
    Room { name: "proof", may_use: &["nc", "dxf", "package", "remark"] },
    Room { name: "sheet", may_use: &["package"] },
    Room {
        name: "kerfwright",
        may_use: &[
            "remark", "outline", "strength", "nc", "dxf", "drawing", "job", "package", "plan", "proof",
            "sheet",
        ],
    },
    Room {
        name: "xtask",
        may_use: &[
            "remark", "outline", "strength", "nc", "dxf", "drawing", "job", "package", "plan", "proof",
            "sheet",
        ],
    },
];

/// A library that only these rooms may use, and why.
struct Kept {
    library: &'static str,
    by: &'static [&'static str],
    why: &'static str,
}

const KEPT: [Kept; 3] = [
    Kept {
        library: "i_overlay",
        by: &["proof", "xtask"],
        why: "the proof's polygon engine must not be the planner's",
    },
    Kept {
        library: "cavalier_contours",
        by: &["outline", "xtask"],
        why: "its offsets are used only after the certifier has seen them",
    },
    Kept { library: "geo", by: &[], why: "its buffer is i_overlay again: no opinion of its own" },
];

/// What is wrong with the dependencies of one room, given its manifest.
pub fn check(room: &str, place: &str, manifest: &str) -> Vec<Finding> {
    let table: Table = match manifest.parse() {
        Ok(table) => table,
        Err(e) => return vec![Finding::new(place, format!("not a manifest: {e}"))],
    };
    let Some(rule) = ROOMS.iter().find(|r| r.name == room) else {
        return vec![Finding::new(place, format!("room '{room}' is not in the table of arrows"))];
    };
    dependencies(&table).iter().filter_map(|name| wrong(rule, name)).map(|m| Finding::new(place, m)).collect()
}

fn wrong(room: &Room, dependency: &str) -> Option<String> {
    let is_room = ROOMS.iter().any(|r| r.name == dependency);
    if is_room && !room.may_use.contains(&dependency) {
        return Some(format!("'{}' must not use '{dependency}'; it may use {:?}", room.name, room.may_use));
    }
    let kept = KEPT.iter().find(|k| k.library == dependency && !k.by.contains(&room.name))?;
    Some(format!("'{}' must not use the library '{dependency}': {}", room.name, kept.why))
}

/// Names of all packages that a manifest asks for: normal, test-only, build-time, and per target.
fn dependencies(manifest: &Table) -> Vec<String> {
    let mut names = Vec::new();
    collect(manifest, &mut names);
    let targets = manifest.get("target").and_then(|t| t.as_table());
    for target in targets.into_iter().flat_map(|t| t.values()).filter_map(|t| t.as_table()) {
        collect(target, &mut names);
    }
    names
}

fn collect(table: &Table, names: &mut Vec<String>) {
    for key in ["dependencies", "dev-dependencies", "build-dependencies"] {
        let Some(listed) = table.get(key).and_then(|d| d.as_table()) else { continue };
        for (name, value) in listed {
            // A renamed dependency states the package's own name beside.
            let package = value.get("package").and_then(|p| p.as_str());
            names.push(package.unwrap_or(name).to_owned());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_manifest(room: &str, manifest: &str, expected: usize) {
        let findings = check(room, "Cargo.toml", manifest);
        assert_eq!(findings.len(), expected, "{room} with {manifest:?}: {findings:?}");
    }

    #[test]
    fn an_arrow_of_the_table_is_allowed() {
        check_manifest("plan", "[dependencies]\noutline.workspace = true\nlibm = \"0.2\"", 0);
        check_manifest("proof", "[dependencies]\nnc.workspace = true\ni_overlay.workspace = true", 0);
    }

    #[test]
    fn a_wrong_arrow_is_found_however_it_is_written() {
        check_manifest("proof", "[dependencies]\noutline.workspace = true", 1);
        check_manifest("proof", "[dependencies]\nplan = { path = \"../plan\" }", 1);
        check_manifest("proof", "[dev-dependencies]\noutline.workspace = true", 1);
        check_manifest("proof", "[build-dependencies]\noutline.workspace = true", 1);
        check_manifest("proof", "[dependencies]\nring = { package = \"outline\", path = \"../outline\" }", 1);
        check_manifest("proof", "[target.'cfg(unix)'.dependencies]\noutline.workspace = true", 1);
        check_manifest("nc", "[dependencies]\nsheet.workspace = true\nremark.workspace = true", 2);
        check_manifest("outline", "[dependencies.dxf]\nworkspace = true", 1);
    }

    #[test]
    fn nothing_uses_the_binary_or_the_chores() {
        for room in &ROOMS {
            check_manifest(room.name, "[dependencies]\nkerfwright = \"*\"\nxtask = \"*\"", 2);
        }
    }

    #[test]
    fn a_kept_library_stays_where_it_is() {
        check_manifest("outline", "[dependencies]\ni_overlay.workspace = true", 1);
        check_manifest("plan", "[dependencies]\ncavalier_contours.workspace = true", 1);
        check_manifest("sheet", "[dependencies]\ngeo = \"0.31\"", 1);
    }

    #[test]
    fn an_unknown_room_and_rubbish_are_found() {
        check_manifest("attic", "[dependencies]", 1);
        check_manifest("plan", "[dependencies", 1);
    }

    #[test]
    fn the_table_has_no_circle() {
        // Rooms are listed so that each uses only rooms above it.
        for (i, room) in ROOMS.iter().enumerate() {
            for used in room.may_use {
                assert!(
                    ROOMS[..i].iter().any(|r| r.name == *used),
                    "{} uses {used}, which is not above it",
                    room.name
                );
            }
        }
    }
}
