//! A folder of its own for each test, and the binary run in it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder with a job that can be made.
pub struct Bench {
    dir: tempfile::TempDir,
}

/// What a run gave.
pub struct Run {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// A job that can be made.
pub const JOB: &str = r#"name = "bench"
units = "mm"

[[section]]
id = "s"
kind = "die"
steel = "D2"
hardness_hrc = 60
size = [24.0, 16.0, 20.0]
relief_deg = 0

  [[section.edge]]
  id = "e"
  drawing = "slot.dxf"
  cut = "finished"
  at = "centred"
"#;

/// A slot of 3 x 0.5 with round ends, as a plain DXF.
pub fn slot() -> String {
    lwpolyline(&[(-1.25, -0.25, 0.0), (1.25, -0.25, 1.0), (1.25, 0.25, 0.0), (-1.25, 0.25, 1.0)])
}

/// A closed LWPOLYLINE of these vertices (x, y, bulge), in mm.
pub fn lwpolyline(vertices: &[(f64, f64, f64)]) -> String {
    let mut text =
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n".to_owned();
    text.push_str(&format!("0\nLWPOLYLINE\n8\nEDGE\n90\n{}\n70\n1\n", vertices.len()));
    for (x, y, bulge) in vertices {
        text.push_str(&format!("10\n{x}\n20\n{y}\n42\n{bulge}\n"));
    }
    text + "0\nENDSEC\n0\nEOF\n"
}

impl Bench {
    /// A folder with `job.toml` and `slot.dxf`.
    pub fn new() -> Self {
        let bench = Self { dir: tempfile::tempdir().unwrap() };
        bench.write("job.toml", JOB);
        bench.write("slot.dxf", slot());
        bench
    }

    /// The folder.
    pub fn path(&self) -> &Path {
        self.dir.path()
    }

    /// Leaves the folder behind for a person to look at.
    pub fn keep(self) -> PathBuf {
        self.dir.keep()
    }

    /// Writes a file.
    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        path
    }

    /// Reads a file as text.
    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path().join(name)).unwrap()
    }

    /// Names in the folder, sorted.
    pub fn names(&self) -> Vec<String> {
        let all = std::fs::read_dir(self.path()).unwrap();
        let mut names: Vec<String> = all.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    /// Runs the binary in the folder.
    pub fn run(&self, args: &[&str]) -> Run {
        let output =
            Command::new(env!("CARGO_BIN_EXE_kerfwright")).args(args).current_dir(self.path()).output();
        let Output { status, stdout, stderr } = output.unwrap();
        Run {
            code: status.code().expect("ended by itself"),
            out: String::from_utf8(stdout).unwrap(),
            err: String::from_utf8(stderr).unwrap(),
        }
    }
}
