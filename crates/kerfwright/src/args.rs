//! What the command line takes.

use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Plans the openings of hardened die sections: drawing in; proven programs, sheets and reasons out.
#[derive(Debug, Parser)]
#[command(name = "kerfwright", version)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Measures every closed outline of a DXF drawing.
    Survey(SurveyArgs),
    /// Plans every section of a job, proves the programs and writes the package.
    Plan(PlanArgs),
    /// Reads a package's programs back and sweeps the wire through the block.
    Prove(ProveArgs),
    /// Prints where one number of a package came from.
    Why(WhyArgs),
    /// Prints a JSON Schema.
    Schema(SchemaArgs),
}

/// Arguments of `survey`.
#[derive(Debug, clap::Args)]
pub struct SurveyArgs {
    /// The drawing.
    pub drawing: PathBuf,
    /// Unit of the drawing's numbers, whatever the drawing says.
    #[arg(long)]
    pub units: Option<UnitsArg>,
    /// Loose ends closer than this are joined, mm.
    #[arg(long, default_value_t = 0.001, value_parser = join_limit, value_name = "MM")]
    pub join_limit: f64,
    /// Print one JSON document.
    #[arg(long)]
    pub json: bool,
}

fn join_limit(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(limit) if (0.0..=1.0).contains(&limit) => Ok(limit),
        _ => Err("the join limit is a length from 0 to 1 mm".to_owned()),
    }
}

/// A unit on the command line.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum UnitsArg {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

/// Arguments of `plan`.
#[derive(Debug, clap::Args)]
pub struct PlanArgs {
    /// The job file.
    pub job: PathBuf,
    /// The shop file; left out: the built-in example shop.
    #[arg(long)]
    pub shop: Option<PathBuf>,
    /// Where the package goes; left out: ./<job name>-package.
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Day of planning as 2026-11-25; left out: today.
    #[arg(long, value_parser = crate::date::checked)]
    pub date: Option<String>,
    /// Print plan.json.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `prove`.
#[derive(Debug, clap::Args)]
pub struct ProveArgs {
    /// The package.
    pub package: PathBuf,
    /// Print proof.json.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `why`.
#[derive(Debug, clap::Args)]
pub struct WhyArgs {
    /// The package.
    pub package: PathBuf,
    /// The number's key, as in vane.slot.start.room_mm.
    pub key: String,
}

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub struct SchemaArgs {
    /// Of which document.
    pub of: SchemaOf,
}

/// Documents that have a schema.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum SchemaOf {
    /// The job file.
    Job,
    /// The shop file.
    Shop,
    /// plan.json.
    Plan,
    /// The survey.
    Survey,
    /// proof.json.
    Proof,
}
