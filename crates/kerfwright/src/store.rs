//! Writes a package: beside its place first, then renamed into it, so that a stopped run leaves the old one or the new one.

use serde::Deserialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

/// A package in memory: paths with forward slashes, and bytes.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Why a folder may not be taken.
#[derive(Debug)]
pub enum Refusal {
    /// It holds something that is not ours.
    NotOurs(PathBuf),
    /// The disk said no.
    Disk(io::Error),
}

impl From<io::Error> for Refusal {
    fn from(error: io::Error) -> Self {
        Refusal::Disk(error)
    }
}

/// Lower-case hex of a file's SHA-256.
pub fn fingerprint(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Folder name for a job: letters, digits, '-', '_' and '.' stay, anything else becomes '_'; dots alone are refused.
pub fn folder_name(job: &str) -> Option<String> {
    let clean = |c: char| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '_' };
    let name: String = job.chars().map(clean).collect();
    let usable = !name.is_empty() && !name.chars().all(|c| c == '.');
    usable.then(|| format!("{name}-package"))
}

/// What tells a plan of ours from any other file of that name.
#[derive(Deserialize)]
struct Head {
    schema: String,
}

/// Whether a package may be written there: nothing there, an empty folder, or a package of ours.
pub fn may_take(target: &Path) -> Result<(), Refusal> {
    let not_ours = || Refusal::NotOurs(target.to_owned());
    match std::fs::symlink_metadata(target) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error.into()),
        Ok(found) if !found.is_dir() => return Err(not_ours()),
        Ok(_) => {}
    }
    if std::fs::read_dir(target)?.next().is_none() {
        return Ok(());
    }
    let plan = std::fs::read(target.join("plan.json"))
        .ok()
        .and_then(|bytes| serde_json::from_slice::<Head>(&bytes).ok());
    match plan {
        Some(plan) if plan.schema.starts_with("kerfwright.plan/") => Ok(()),
        _ => Err(not_ours()),
    }
}

/// Writes the files as the package at `target`.
pub fn write(target: &Path, files: &Files) -> Result<(), Refusal> {
    may_take(target)?;
    let parent = target.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    std::fs::create_dir_all(parent)?;
    let name = target.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let beside = |what: &str| parent.join(format!(".{name}.{what}-{}", std::process::id()));
    let (fresh, old) = (beside("new"), beside("old"));
    let written = fill(&fresh, files).and_then(|()| swap(&fresh, target, &old));
    if written.is_err() {
        // The first error is the one worth telling.
        let _ = std::fs::remove_dir_all(&fresh);
    }
    written.map_err(Refusal::Disk)
}

fn fill(folder: &Path, files: &Files) -> io::Result<()> {
    std::fs::create_dir(folder)?;
    for (path, bytes) in files {
        let path = folder.join(path);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)?;
        }
        std::fs::write(path, bytes)?;
    }
    Ok(())
}

fn swap(fresh: &Path, target: &Path, old: &Path) -> io::Result<()> {
    if !target.exists() {
        return std::fs::rename(fresh, target);
    }
    std::fs::rename(target, old)?;
    if let Err(error) = std::fs::rename(fresh, target) {
        std::fs::rename(old, target)?;
        return Err(error);
    }
    std::fs::remove_dir_all(old)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_cannot_leave_the_folder() {
        assert_eq!(folder_name("relay-leaf").as_deref(), Some("relay-leaf-package"));
        assert_eq!(folder_name("../a b/ü").as_deref(), Some(".._a_b__-package"));
        assert_eq!(folder_name(".."), None);
    }

    #[test]
    fn a_folder_of_somebody_else_is_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let target = dir.path().join("p");
        let files: Files = [("plan.json".to_owned(), br#"{"schema":"kerfwright.plan/1"}"#.to_vec())].into();
        write(&target, &files).unwrap();
        write(&target, &files).unwrap();
        std::fs::write(target.join("plan.json"), "{}").unwrap();
        assert!(matches!(write(&target, &files), Err(Refusal::NotOurs(_))));
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1, "nothing is left beside it");
    }
}
