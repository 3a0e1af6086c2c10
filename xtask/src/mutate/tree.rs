//! The copy of the tree that is mutated: what git knows of or would add, file by file; only what differs is written, so
//! that the copy builds no more than what changed, and a change that a broken-off run left in it is put right.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Brings the copy up to date.
pub fn copied(root: &Path, copy: &Path) -> Result<(), String> {
    let wanted: BTreeSet<PathBuf> =
        listed(root)?.into_iter().filter(|path| root.join(path).is_file()).collect();
    for path in &wanted {
        let (from, to) = (root.join(path), copy.join(path));
        let said = |e: std::io::Error| format!("{}: {e}", to.display());
        let bytes = std::fs::read(&from).map_err(|e| format!("{}: {e}", from.display()))?;
        if std::fs::read(&to).is_ok_and(|there| there == bytes) {
            continue;
        }
        std::fs::create_dir_all(to.parent().unwrap_or(copy)).map_err(said)?;
        std::fs::copy(&from, &to).map_err(said)?;
    }
    // Sources that are gone must go here too: a test that is no longer there would notice for one that is.
    for gone in files(copy, Path::new(""))?.into_iter().filter(|path| !wanted.contains(path)) {
        std::fs::remove_file(copy.join(&gone)).map_err(|e| format!("{}: {e}", gone.display()))?;
    }
    Ok(())
}

/// Files that git tracks, and new ones that it does not ignore.
fn listed(root: &Path) -> Result<Vec<PathBuf>, String> {
    let mut git = Command::new("git");
    git.current_dir(root).args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"]);
    let output = git.output().map_err(|e| format!("git ls-files: {e}"))?;
    if !output.status.success() {
        return Err(format!("git ls-files: {}", output.status));
    }
    let text = String::from_utf8(output.stdout).map_err(|e| format!("git ls-files: {e}"))?;
    Ok(text.split('\0').filter(|path| !path.is_empty()).map(PathBuf::from).collect())
}

/// Files below a folder of the copy, but for what is built there.
fn files(copy: &Path, below: &Path) -> Result<Vec<PathBuf>, String> {
    let mut found = Vec::new();
    let folder = copy.join(below);
    let entries = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    for entry in entries {
        let entry = entry.map_err(|e| format!("{}: {e}", folder.display()))?;
        let path = below.join(entry.file_name());
        match entry.file_type() {
            Ok(kind) if kind.is_dir() && path != Path::new("target") => found.extend(files(copy, &path)?),
            Ok(kind) if kind.is_file() => found.push(path),
            _ => {}
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_brought_up_to_date_and_keeps_what_is_built() {
        let folder = tempfile::tempdir().unwrap();
        let (root, copy) = (folder.path().join("root"), folder.path().join("copy"));
        std::fs::create_dir_all(root.join("src")).unwrap();
        std::fs::create_dir_all(copy.join("target")).unwrap();
        std::fs::write(root.join("src/a.rs"), "right").unwrap();
        std::fs::write(copy.join("gone.rs"), "old").unwrap();
        std::fs::write(copy.join("target/built"), "kept").unwrap();
        assert!(Command::new("git").arg("init").arg("-q").arg(&root).status().unwrap().success());
        copied(&root, &copy).unwrap();
        let when = |path: &str| std::fs::metadata(copy.join(path)).unwrap().modified().unwrap();
        let first = when("src/a.rs");
        copied(&root, &copy).unwrap();
        assert_eq!(when("src/a.rs"), first);
        std::fs::write(copy.join("src/a.rs"), "mutated").unwrap();
        copied(&root, &copy).unwrap();
        assert_eq!(std::fs::read_to_string(copy.join("src/a.rs")).unwrap(), "right");
        assert!(!copy.join("gone.rs").exists() && copy.join("target/built").exists());
    }
}
