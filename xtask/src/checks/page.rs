//! The pages that people read: `docs/checks.md`, and the table of rules in `docs/method.md`.

use super::coverage::Coverage;
use super::verdict::{Checked, Verdict};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// Where the table of rules stands in `docs/method.md`.
const OPENS: &str = "<!-- rules: written by cargo xtask checks -->";
const CLOSES: &str = "<!-- end of rules -->";

/// Adds formatted text: writing to a text cannot fail.
macro_rules! add {
    ($text:expr, $($words:tt)*) => {{
        let _ = writeln!($text, $($words)*);
    }};
}

/// A cell of a table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// `docs/checks.md`.
pub fn checks(
    checks: &[Checked],
    coverage: &Coverage,
    entries: &BTreeMap<String, String>,
    mutants: &str,
) -> String {
    let mut text = String::new();
    let known = checks.iter().filter(|check| check.verdict == Verdict::DiffersAsKnown).count();
    add!(text, "# Checks against the outside\n");
    add!(
        text,
        "Written by `cargo xtask checks` from `checks/book`; a test holds this page against it. A number agrees when it is right to half a"
    );
    add!(
        text,
        "unit of the last digit that the source prints; `order of` means within a factor of sqrt(10). Sources: *read* means that somebody"
    );
    add!(
        text,
        "of this project has seen the value printed (often in an excerpt), *computed* that `./check` computes the expected value afresh in"
    );
    add!(
        text,
        "Python, *from memory* that nobody here has seen it printed, *common practice* that the trade holds it without a source.\n"
    );
    add!(
        text,
        "{} checks, {known} of them known differences. {} of the {} rules, facts, starting values and measured quantities are checked,",
        checks.len(),
        coverage.checked.len(),
        entries.len()
    );
    add!(
        text,
        "{} of them by memory or common practice alone; the rest stands [below](#not-checked-against-anything-outside).\n",
        coverage.weakly.len()
    );
    subjects(&mut text, checks);
    covered(&mut text, coverage);
    listed(&mut text, coverage, entries);
    libraries(&mut text);
    text.push_str(mutants);
    text
}

fn subjects(text: &mut String, checks: &[Checked]) {
    let mut by_subject: BTreeMap<&str, Vec<&Checked>> = BTreeMap::new();
    for check in checks {
        by_subject.entry(&check.row.subject).or_default().push(check);
    }
    for (subject, checks) in by_subject {
        add!(text, "## {subject}\n");
        add!(text, "| check | what | expected | ours | difference | source |");
        add!(text, "|---|---|---|---|---|---|");
        for check in &checks {
            let row = &check.row;
            let mark = if check.verdict == Verdict::DiffersAsKnown { " (known difference)" } else { "" };
            let [what, cite] = [&row.what, &row.cite()].map(|words| cell(words));
            let (printed, ours, difference) = (&row.printed, check.ours(), check.difference());
            add!(text, "| `{}` | {what} | {printed} | {ours}{mark} | {difference} | {cite} |", row.id);
        }
        add!(text, "");
        for check in checks {
            if let Some(reason) = &check.row.known_difference {
                add!(text, "Known difference `{}`: {reason}\n", check.row.id);
            }
        }
    }
}

fn covered(text: &mut String, coverage: &Coverage) {
    add!(text, "## What the checks speak for\n");
    add!(text, "| entry | checks |");
    add!(text, "|---|---|");
    for (name, ids) in &coverage.checked {
        let weak = if coverage.weakly.contains(name) { " (memory or common practice alone)" } else { "" };
        add!(text, "| `{name}` | {}{weak} |", ids.join(", "));
    }
    add!(text, "");
}

fn listed(text: &mut String, coverage: &Coverage, entries: &BTreeMap<String, String>) {
    add!(text, "## Not checked against anything outside\n");
    for (reason, names) in &coverage.groups {
        add!(text, "{reason}\n");
        for name in names {
            add!(text, "- `{name}`: {}", cell(entries.get(name).map_or("", String::as_str)));
        }
        add!(text, "");
    }
}

fn libraries(text: &mut String) {
    add!(text, "## Other libraries, asked afresh\n");
    add!(
        text,
        "No stored answers: `./check` runs these with pinned versions, on inputs drawn from its seed where that is possible.\n"
    );
    add!(text, "| where | what | against |");
    add!(text, "|---|---|---|");
    add!(
        text,
        "| `checks/book/run` | every expected value that is *computed* | Python, NumPy, SciPy, Shapely |"
    );
    add!(
        text,
        "| `checks/reference/run` | random outlines: measures, largest circle, parallels, reach, missed corners, narrowest place; parallels within 1 um of a collapse | GEOS through Shapely, NumPy |"
    );
    add!(
        text,
        "| `checks/outline/run` | areas, parallels, largest circles and reach by a polygon engine; 10,000 outlines near collapse; largest circles by samples | clipper2 |"
    );
    add!(text, "| `checks/clean-up/run` | probability of cleaning up | SciPy's double integral |");
    add!(
        text,
        "| `checks/strength/run` | peak stresses of random sections | an integral equation on their edges, in NumPy; an own assembly of the stiffness, other elements, in SciPy |"
    );
    add!(
        text,
        "| `checks/ezdxf/run` | drawings written in every version, splines, ellipses and inserts among them | ezdxf, SciPy |\n"
    );
}

/// `docs/method.md` with its table of rules made new.
pub fn method(root: &Path, coverage: &Coverage) -> Result<String, String> {
    let path = root.join("docs/method.md");
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let parts = text.split_once(OPENS).and_then(|(head, rest)| Some((head, rest.split_once(CLOSES)?.1)));
    let (head, tail) = parts.ok_or_else(|| format!("docs/method.md lacks `{OPENS}` or `{CLOSES}`"))?;
    Ok(format!("{head}{OPENS}\n\n{}\n{CLOSES}{tail}", rules(coverage)))
}

/// Checks that `docs/method.md` names and the book does not have.
pub fn unknown(root: &Path, checks: &[Checked]) -> Result<Vec<String>, String> {
    let path = root.join("docs/method.md");
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let paragraphs = text.split("\n\n").filter(|paragraph| paragraph.starts_with("Checked by"));
    let named = paragraphs.flat_map(|paragraph| paragraph.split('`').skip(1).step_by(2));
    let known = |name: &str| name.starts_with("checks/") || checks.iter().any(|check| check.row.id == name);
    Ok(named
        .filter(|name| !known(name))
        .map(|name| format!("docs/method.md names the check `{name}`"))
        .collect())
}

fn rules(coverage: &Coverage) -> String {
    let mut text = String::new();
    add!(text, "| rule | what | formula | unit | range | source | checks |");
    add!(text, "|---|---|---|---|---|---|---|");
    for rule in plan::rulebook() {
        let ids = coverage.checked.get(&format!("rule.{}", rule.id));
        let ids = ids.map_or("none outside".to_owned(), |ids| ids.join(", "));
        let (meaning, cite, range) = (cell(rule.meaning), cell(rule.cite), rule.range.unwrap_or(""));
        let formula = cell(&format!("{} = {}", rule.symbol, rule.formula));
        add!(text, "| `{}` | {meaning} | `{formula}` | {} | {range} | {cite} | {ids} |", rule.id, rule.unit);
    }
    text
}
