//! Gathers what a plan needs: job, shop, and the drawing of every edge.

use crate::args::PlanArgs;
use crate::drawings::{self, Read};
use crate::remarks::Sources;
use drawing::{DrawnOutline, Options};
use job::{Cut, Edge, Job, Shop};
use outline::Outline;
use plan::DrawnEdge;
use rayon::prelude::*;
use remark::{Place, Remark};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Files of the job's folder that are read at most, bytes: job and shop files are written by hand.
const MOST_BYTES: u64 = 4 << 20;

/// Everything that stands before a plan.
#[derive(Debug)]
pub struct Gathered {
    /// The job.
    pub job: Job,
    /// The shop.
    pub shop: Shop,
    /// For each section, the outline of each edge.
    pub drawn: Vec<Vec<DrawnEdge>>,
    /// What goes into `inputs/`.
    pub inputs: BTreeMap<String, Vec<u8>>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// What was wrong, and the texts that the remarks point into.
pub type Refused = (Vec<Remark>, Sources);

/// Reads everything.
pub fn gather(args: &PlanArgs) -> Result<(Gathered, Sources), Refused> {
    let mut sources = Sources::new();
    let mut remarks = Vec::new();
    let job = take(&args.job, &mut sources).and_then(|(text, name)| job::read_job(&text, &name));
    let shop = match &args.shop {
        None => Ok((job::example_shop(), Vec::new())),
        Some(path) => take(path, &mut sources).and_then(|(text, name)| job::read_shop(&text, &name)),
    };
    let ((job, about_job), (shop, about_shop)) = match (job, shop) {
        (Ok(job), Ok(shop)) => (job, shop),
        (job, shop) => {
            let mut faults = job.err().unwrap_or_default();
            faults.extend(shop.err().unwrap_or_default());
            return Err((faults, sources));
        }
    };
    remarks.extend(about_job);
    remarks.extend(about_shop);
    let folder = args.job.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let drawings = match read_all(folder, &job) {
        Ok(drawings) => drawings,
        Err(faults) => return Err((faults, sources)),
    };
    for read in drawings.values() {
        remarks.extend(read.drawing.remarks.iter().cloned());
    }
    let drawn = match pick_all(&job, &drawings) {
        Ok(drawn) => drawn,
        Err(mut faults) => {
            // What is wrong with a drawing explains why its outline is missing.
            faults.extend(remarks.into_iter().filter(Remark::is_error));
            return Err((faults, sources));
        }
    };
    let mut inputs: BTreeMap<String, Vec<u8>> =
        drawings.into_iter().map(|(name, read)| (name, read.bytes)).collect();
    let job_text = sources.get(&short_name(&args.job)).cloned().unwrap_or_default();
    for (name, bytes) in [("job.toml", job_text.into_bytes()), ("shop.toml", shop.to_toml().into_bytes())] {
        if inputs.insert(name.to_owned(), bytes).is_some() {
            let message = format!("a drawing may not be called `{name}`");
            return Err((vec![Remark::error("drawing-name", message).place(Place::file(name))], sources));
        }
    }
    Ok((Gathered { job, shop, drawn, inputs, remarks }, sources))
}

/// A file's own name: where it lies on this disk is nothing that a plan should depend on.
fn short_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// A text file and its own name; its text is kept for pointing into. A second file of the same name goes by its
/// whole path.
fn take(path: &Path, sources: &mut Sources) -> Result<(String, String), Vec<Remark>> {
    let short = short_name(path);
    let name = if sources.contains_key(&short) { path.display().to_string() } else { short };
    let fail = |message: String| vec![Remark::error("file-unreadable", message).place(Place::file(&name))];
    let size =
        std::fs::metadata(path).map_err(|error| fail(format!("`{name}` cannot be opened: {error}")))?;
    if !size.is_file() {
        return Err(fail(format!("`{name}` is not a file")));
    }
    if size.len() > MOST_BYTES {
        return Err(fail(format!("`{name}` has {} bytes, the limit is {MOST_BYTES}", size.len())));
    }
    let bytes = std::fs::read(path).map_err(|error| fail(format!("`{name}` cannot be read: {error}")))?;
    let text = String::from_utf8(bytes).map_err(|_| fail(format!("`{name}` is not text in UTF-8")))?;
    sources.insert(name.clone(), text.clone());
    Ok((text, name))
}

/// Every drawing that the job names, each once.
fn read_all(folder: &Path, job: &Job) -> Result<BTreeMap<String, Read>, Vec<Remark>> {
    let mut wanted: BTreeMap<&str, &Edge> = BTreeMap::new();
    for edge in job.sections.iter().flat_map(|section| &section.edges) {
        wanted.entry(&edge.drawing.value).or_insert(edge);
    }
    let units = match job.units {
        job::Units::Mm => drawing::Units::Mm,
        job::Units::In => drawing::Units::In,
    };
    let options =
        Options { units: None, units_if_unstated: Some(units), join_limit_mm: job.join_limit.value };
    let wanted: Vec<(&str, &Edge)> = wanted.into_iter().collect();
    let read: Vec<Result<(String, Read), Vec<Remark>>> = wanted
        .par_iter()
        .map(|(name, edge)| {
            let path = drawings::find(folder, name, &edge.place).map_err(|remark| vec![remark])?;
            let bytes = drawings::bytes(&path, name).map_err(|remark| vec![remark])?;
            Ok(((*name).to_owned(), drawings::read(bytes, name, &options)?))
        })
        .collect();
    let mut found = BTreeMap::new();
    let mut faults = Vec::new();
    for one in read {
        match one {
            Ok((name, read)) => drop(found.insert(name, read)),
            Err(remarks) => faults.extend(remarks),
        }
    }
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

fn pick_all(job: &Job, drawings: &BTreeMap<String, Read>) -> Result<Vec<Vec<DrawnEdge>>, Vec<Remark>> {
    let mut faults = Vec::new();
    let mut picked = Vec::new();
    for section in &job.sections {
        let mut of_section = Vec::new();
        for edge in &section.edges {
            match pick(edge, drawings) {
                Ok(one) => of_section.push(one),
                Err(remark) => faults.push(remark),
            }
        }
        picked.push(of_section);
    }
    leave_out_asked_for(&mut picked);
    if faults.is_empty() { Ok(picked) } else { Err(faults) }
}

/// The outline that an edge names by number, by layer or by both, or the only one of its drawing.
fn pick(edge: &Edge, drawings: &BTreeMap<String, Read>) -> Result<DrawnEdge, Remark> {
    let name = &edge.drawing.value;
    let fail = |code, message: String| Remark::error(code, message).place(edge.place.clone());
    let outlines = drawings.get(name).map(|read| &read.drawing.outlines[..]).unwrap_or_default();
    let on_layer = |one: &DrawnOutline| match &edge.layer {
        // Names of layers are the same in capitals.
        Some(layer) => one.layer.to_lowercase() == layer.value.to_lowercase(),
        None => true,
    };
    let listed = |wanted: &dyn Fn(&DrawnOutline) -> bool| -> String {
        let found = outlines.iter().filter(|one| wanted(one));
        found.map(|one| format!("{} (layer {})", one.id, one.layer)).collect::<Vec<_>>().join(", ")
    };
    let holds = || format!("it holds {}", listed(&|_| true));
    let where_asked =
        edge.layer.as_ref().map_or(String::new(), |layer| format!(" on layer `{}`", layer.value));
    if outlines.is_empty() {
        return Err(fail("no-outline", format!("drawing `{name}` holds no closed outline")));
    }
    let named = match &edge.outline {
        Some(wanted) => {
            let index = outlines.iter().position(|one| one.id == wanted.value).ok_or_else(|| {
                let message = format!("drawing `{name}` holds no outline `{}`", wanted.value);
                fail("outline-unknown", message).cure(format!("outline = one of {}", listed(&|_| true)))
            })?;
            vec![index]
        }
        None => (0..outlines.len()).filter(|i| on_layer(&outlines[*i])).collect(),
    };
    let index = match named[..] {
        [index] if on_layer(&outlines[index]) => index,
        [index] => {
            let message = format!(
                "outline {} of `{name}` lies on layer `{}`, and edge `{}` asks for one{where_asked}",
                outlines[index].id, outlines[index].layer, edge.id
            );
            let right = format!("layer = \"{}\", or leave it out", outlines[index].layer);
            return Err(fail("layer-other", message).cure(right));
        }
        [] => {
            let message = format!("drawing `{name}` holds no closed outline{where_asked}: {}", holds());
            return Err(fail("layer-unknown", message).cure("layer = one of these layers"));
        }
        _ => {
            let message = format!(
                "drawing `{name}` holds {} outlines{where_asked} and edge `{}` names none",
                named.len(),
                edge.id
            );
            return Err(
                fail("outline-unnamed", message).cure(format!("outline = one of {}", listed(&on_layer)))
            );
        }
    };
    let one = &outlines[index];
    Ok(DrawnEdge {
        file: name.clone(),
        outline_id: one.id.clone(),
        outline: one.outline.clone(),
        moved_mm: one.moved_mm,
        fitted_mm: one.fitted_mm,
        islands: standing_inside(edge, outlines, index),
    })
}

/// The outlines directly inside one: metal that the drawing leaves standing there. A blank's outline is the part's, and what
/// lies inside is a hole in the part.
fn standing_inside(edge: &Edge, outlines: &[DrawnOutline], index: usize) -> Vec<(String, Outline)> {
    let inside = outlines.iter().filter(|one| one.inside_of == Some(index) && edge.cut.value != Cut::Blank);
    inside.map(|one| (one.id.clone(), one.outline.clone())).collect()
}

/// What an edge of the job asks for is that edge's own business: it stands in no other's way.
fn leave_out_asked_for(picked: &mut [Vec<DrawnEdge>]) {
    let asked: BTreeSet<(String, String)> =
        picked.iter().flatten().map(|one| (one.file.clone(), one.outline_id.clone())).collect();
    for one in picked.iter_mut().flatten() {
        let file = one.file.clone();
        one.islands.retain(|(id, _)| !asked.contains(&(file.clone(), id.clone())));
    }
}
