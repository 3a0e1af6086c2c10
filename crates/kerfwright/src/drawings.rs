//! Drawings from the disk: only below the job's folder, each read once.

use drawing::{Drawing, Options};
use remark::{Place, Remark};
use std::path::{Path, PathBuf};

/// A drawing that was read.
#[derive(Debug)]
pub struct Read {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// What is in it.
    pub drawing: Drawing,
}

/// Finds a drawing named by a job; links must not lead out of the job's folder.
pub fn find(folder: &Path, name: &str, place: &Place) -> Result<PathBuf, Remark> {
    let path = folder.join(name);
    let fail = |code, message: String| Remark::error(code, message).place(place.clone());
    let real = path
        .canonicalize()
        .map_err(|error| fail("drawing-missing", format!("drawing `{name}` cannot be opened: {error}")))?;
    let folder = folder
        .canonicalize()
        .map_err(|error| fail("drawing-missing", format!("the job's folder cannot be opened: {error}")))?;
    if !real.starts_with(&folder) {
        let message = format!("drawing `{name}` lies outside the job's folder");
        return Err(fail("drawing-outside", message).cure("copy the drawing beside the job file"));
    }
    if !real.is_file() {
        return Err(fail("drawing-missing", format!("drawing `{name}` is not a file")));
    }
    Ok(real)
}

/// Reads a drawing's bytes, within the reader's limit.
pub fn bytes(path: &Path, name: &str) -> Result<Vec<u8>, Remark> {
    let fail = |message: String| Remark::error("drawing-unreadable", message).place(Place::file(name));
    let limit = dxf::Limits::default().bytes as u64;
    let size = std::fs::metadata(path).map_err(|error| fail(format!("drawing `{name}`: {error}")))?.len();
    if size > limit {
        return Err(fail(format!("drawing `{name}` has {size} bytes, the limit is {limit}")));
    }
    std::fs::read(path).map_err(|error| fail(format!("drawing `{name}`: {error}")))
}

/// What is in a drawing.
pub fn read(bytes: Vec<u8>, name: &str, options: &Options) -> Result<Read, Vec<Remark>> {
    let dxf = dxf::read(&bytes, name, &dxf::Limits::default())?;
    let drawing = drawing::outlines(&dxf, options);
    Ok(Read { bytes, drawing })
}
