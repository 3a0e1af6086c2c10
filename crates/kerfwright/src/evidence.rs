//! Reads a package back, ours or anybody's, for the proof.

use package::Plan;
use proof::Evidence;
use remark::{Place, Remark};
use std::collections::BTreeMap;
use std::path::Path;

/// Files of a package that are read at most, bytes.
const MOST_BYTES: u64 = 1 << 30;

/// Everything that a proof needs of a package in a folder.
pub fn read(folder: &Path) -> Result<Evidence, Remark> {
    let plan = plan(folder)?;
    let mut inputs = BTreeMap::new();
    let files = plan.inputs.iter().map(|file| file.path.clone());
    let drawings =
        plan.sections.iter().flat_map(|section| &section.contours).map(|one| one.drawing.file.clone());
    for path in files.chain(drawings) {
        if !inputs.contains_key(&path)
            && let Some(bytes) = within(folder, "inputs", &path)
        {
            inputs.insert(path, bytes);
        }
    }
    let mut programs = BTreeMap::new();
    for path in plan.sections.iter().flat_map(|section| &section.programs).map(|program| &program.path) {
        if let Some(bytes) = within(folder, ".", path) {
            programs.insert(path.clone(), bytes);
        }
    }
    Ok(Evidence { plan, inputs, programs })
}

/// The plan of a package.
pub fn plan(folder: &Path) -> Result<Plan, Remark> {
    let path = folder.join("plan.json");
    let name = path.display().to_string();
    let fail = |message: String| Remark::error("not-a-package", message).place(Place::file(&name));
    let size = std::fs::metadata(&path).map_err(|error| fail(format!("no plan there: {error}")))?.len();
    if size > MOST_BYTES {
        return Err(fail(format!("plan.json has {size} bytes, the limit is {MOST_BYTES}")));
    }
    let text = std::fs::read_to_string(&path).map_err(|error| fail(format!("cannot be read: {error}")))?;
    let plan: Plan =
        serde_json::from_str(&text).map_err(|error| fail(format!("not a plan of ours: {error}")))?;
    match plan.schema == package::PLAN_SCHEMA {
        true => Ok(plan),
        false => {
            Err(fail(format!("schema `{}`; this program reads `{}`", plan.schema, package::PLAN_SCHEMA)))
        }
    }
}

/// A file below the package; nothing outside it is ever read.
fn within(folder: &Path, below: &str, path: &str) -> Option<Vec<u8>> {
    let root = folder.canonicalize().ok()?;
    let real = folder.join(below).join(path).canonicalize().ok()?;
    let size = std::fs::metadata(&real).ok()?.len();
    (real.starts_with(root) && size <= MOST_BYTES).then(|| std::fs::read(real).ok()).flatten()
}
