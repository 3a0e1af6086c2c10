//! `plan`, `prove` and `why`: from files to a package and back.

use crate::answer;
use crate::args::{PlanArgs, ProveArgs, WhyArgs};
use crate::bar::Bar;
use crate::date;
use crate::evidence;
use crate::exit::Exit;
use crate::gather::{self, Gathered};
use crate::remarks::{self, Sources};
use crate::store::{self, Files, Refusal};
use crate::survey::print_json;
use package::{InputFile, Line, Plan, Proof};
use plan::{Kept, Planned, Task};
use proof::Evidence;
use rayon::prelude::*;
use remark::{Place, Remark};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A package that stands on the disk.
struct Made {
    plan: Plan,
    proof: Proof,
    target: PathBuf,
    sources: Sources,
}

/// Why there is none.
enum Unmade {
    /// What is wrong with the input, and the texts that the remarks point into.
    Input(Vec<Remark>, Sources),
    /// Anything else.
    Other(String),
}

/// Runs `plan`.
pub fn plan(args: &PlanArgs) -> Exit {
    // The bar is gone before anything is said.
    let made = package(args, &Bar::new());
    let Made { plan, proof, target, sources } = match made {
        Ok(made) => made,
        Err(Unmade::Input(faults, sources)) => return refuse(&faults, &sources),
        Err(Unmade::Other(message)) => return other(&message),
    };
    let printed = match args.json {
        true => print_json(&plan),
        false => {
            answer::print(&(answer::planned(&plan, &proof) + &format!("package: {}\n", target.display())))
        }
    };
    remarks::say(&plan.remarks, &sources);
    match (printed, proof.holds, plan.sections.iter().all(|section| section.makeable)) {
        (false, _, _) => Exit::Other,
        (_, false, _) => Exit::ProofFailed,
        (_, _, false) => Exit::NotHere,
        _ => Exit::Done,
    }
}

/// Plans, proves and writes.
fn package(args: &PlanArgs, bar: &Bar) -> Result<Made, Unmade> {
    let (gathered, sources) =
        gather::gather(args).map_err(|(faults, sources)| Unmade::Input(faults, sources))?;
    let target = match target(args, &gathered.job.name) {
        Ok(target) => target,
        Err(remark) => return Err(Unmade::Input(vec![remark], sources)),
    };
    let planned = match make(args, &gathered, bar) {
        Ok(planned) => planned,
        Err(faults) => return Err(Unmade::Input(faults, sources)),
    };
    let (files, proof) = proven(&planned, &gathered, bar)
        .map_err(|error| Unmade::Other(format!("the plan cannot be written as JSON: {error}")))?;
    bar.begins("writing", 0);
    match store::write(&target, &files) {
        Ok(()) => Ok(Made { plan: planned.plan, proof, target, sources }),
        Err(Refusal::NotOurs(path)) => Err(Unmade::Input(vec![not_ours(&path)], sources)),
        Err(Refusal::Disk(error)) => {
            Err(Unmade::Other(format!("cannot write {}: {error}", target.display())))
        }
    }
}

fn refuse(faults: &[Remark], sources: &Sources) -> Exit {
    remarks::say(faults, sources);
    Exit::Input
}

fn other(message: &str) -> Exit {
    remarks::say(&[Remark::error("not-done", message)], &Sources::new());
    Exit::Other
}

fn not_ours(path: &Path) -> Remark {
    let message = format!("{} is there already and is not a package of ours", path.display());
    Remark::error("out-not-ours", message).cure("another --out, or move it away")
}

/// Where the package goes, if it may.
fn target(args: &PlanArgs, job: &str) -> Result<PathBuf, Remark> {
    let target = match &args.out {
        Some(out) => out.clone(),
        None => PathBuf::from(store::folder_name(job).ok_or_else(|| {
            Remark::error("job-name", format!("job name `{job}` cannot be a folder")).cure("give --out")
        })?),
    };
    if target.file_name().is_none() {
        let message = format!("--out {} has no name of its own", target.display());
        return Err(Remark::error("out-not-ours", message).cure("name a new folder"));
    }
    match store::may_take(&target) {
        Err(Refusal::NotOurs(path)) => Err(not_ours(&path)),
        // What the disk has to say comes when it is written.
        _ => Ok(target),
    }
}

fn make(args: &PlanArgs, gathered: &Gathered, bar: &Bar) -> Result<Planned, Vec<Remark>> {
    let facts = job::Facts::load()?;
    let date = args.date.clone().unwrap_or_else(date::today);
    let task =
        Task { job: &gathered.job, shop: &gathered.shop, facts: &facts, date: &date, drawn: &gathered.drawn };
    bar.begins("planning", gathered.job.sections.len());
    let mut planned = plan::plan_again(&task, &Kept::default(), &|| bar.step())?;
    let about_shop = args.shop.is_none().then(|| {
        Remark::note(
            "example-shop",
            "no shop file was given: planned for the built-in example shop, whose values are starting values",
        )
        .cure("--shop SHOP.toml")
    });
    let mut remarks: Vec<Remark> = about_shop.into_iter().chain(gathered.remarks.iter().cloned()).collect();
    remarks.append(&mut planned.plan.remarks);
    planned.plan.remarks = remarks;
    planned.plan.inputs = (gathered.inputs.iter())
        .map(|(path, bytes)| InputFile { path: path.clone(), sha256: store::fingerprint(bytes) })
        .collect();
    Ok(planned)
}

/// Everything that goes into the package, and its proof. The proof gets what anybody would read back from the
/// package's bytes; one that fails leaves no program behind.
fn proven(planned: &Planned, gathered: &Gathered, bar: &Bar) -> Result<(Files, Proof), serde_json::Error> {
    let mut files = Files::new();
    let plan = json(&planned.plan)?;
    let programs: BTreeMap<String, Vec<u8>> =
        planned.programs.iter().map(|(path, text)| (path.clone(), text.clone().into_bytes())).collect();
    bar.begins("proving", planned.plan.sections.len());
    let prove = || -> Result<Proof, serde_json::Error> {
        let evidence = Evidence {
            plan: serde_json::from_slice(&plan)?,
            inputs: gathered.inputs.clone(),
            programs: programs.clone(),
        };
        Ok(proof::prove_counted(&evidence, &|| bar.step()))
    };
    let (proof, sheets) = rayon::join(prove, || sheets(&planned.plan));
    let proof = proof?;
    files.extend(sheets);
    files.insert("plan.json".to_owned(), plan);
    files.insert("proof.json".to_owned(), json(&proof)?);
    for (path, bytes) in &gathered.inputs {
        files.insert(format!("inputs/{path}"), bytes.clone());
    }
    if proof.holds {
        files.extend(programs);
    }
    Ok((files, proof))
}

/// The drawing of each section.
fn sheets(plan: &Plan) -> Vec<(String, Vec<u8>)> {
    let sheet = |section| sheet::section_sheet(plan, section).to_svg().into_bytes();
    plan.sections.par_iter().map(|section| (format!("drawings/{}.svg", section.id), sheet(section))).collect()
}

fn json<T: serde::Serialize>(document: &T) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(document)?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Runs `prove`.
pub fn prove(args: &ProveArgs) -> Exit {
    // The bar is gone before anything is said.
    let proof = match read_back(args, &Bar::new()) {
        Ok(proof) => proof,
        Err(remark) => return refuse(&[remark], &Sources::new()),
    };
    let printed = match args.json {
        true => print_json(&proof),
        false => answer::print(&answer::read_back(&proof)),
    };
    match (printed, proof.holds) {
        (false, _) => Exit::Other,
        (true, true) => Exit::Done,
        (true, false) => Exit::ProofFailed,
    }
}

fn read_back(args: &ProveArgs, bar: &Bar) -> Result<Proof, Remark> {
    let evidence = evidence::read(&args.package)?;
    bar.begins("proving", evidence.plan.sections.len());
    Ok(proof::prove_counted(&evidence, &|| bar.step()))
}

/// Runs `why`.
pub fn why(args: &WhyArgs) -> Exit {
    let plan = match evidence::plan(&args.package) {
        Ok(plan) => plan,
        Err(remark) => return refuse(&[remark], &Sources::new()),
    };
    if !plan.reckoning.iter().any(|line| line.key == args.key) {
        return refuse(&[unknown_key(&plan, &args.key)], &Sources::new());
    }
    if answer::print(&derivation(&plan, &args.key)) { Exit::Done } else { Exit::Other }
}

fn unknown_key(plan: &Plan, key: &str) -> Remark {
    let tail = key.rsplit('.').next().unwrap_or(key);
    let head = format!("{key}.");
    // What lies below the key first, then what ends alike and begins alike, then what ends alike.
    let section = key.split('.').next().unwrap_or(key);
    let rank = |line: &&Line| match (line.key.starts_with(&head), line.key.ends_with(tail)) {
        (true, _) => Some(0),
        (_, true) if line.key.split('.').next() == Some(section) => Some(1 + line.key.len()),
        (_, true) => Some(1000 + line.key.len()),
        _ => None,
    };
    let mut near: Vec<&Line> = plan.reckoning.iter().filter(|line| rank(line).is_some()).collect();
    near.sort_by_key(rank);
    let near = near.into_iter().take(5);
    let remark =
        Remark::error("unknown-key", format!("the reckoning has no line `{key}`")).place(Place::default());
    near.fold(remark, |remark, line| remark.cure(format!("the key {}", line.key)))
}

/// A number and, below it, everything it came from, each once.
fn derivation(plan: &Plan, key: &str) -> String {
    let mut out = String::new();
    let mut said: Vec<&str> = Vec::new();
    // A number goes by the name that the formula above it has for it.
    let mut open: Vec<(&str, Option<&str>, usize)> = vec![(key, None, 0)];
    while let Some((key, name, depth)) = open.pop() {
        let Some(line) = plan.reckoning.iter().find(|line| line.key == key) else { continue };
        let indent = "  ".repeat(depth);
        let name = name.unwrap_or(&line.symbol);
        if said.contains(&key) {
            let unit = spaced(&line.unit);
            out.push_str(&format!("{indent}{name} = {}{unit}  (above)  [{key}]\n", line.value));
            continue;
        }
        said.push(key);
        out.push_str(&one(line, name, &indent));
        let inputs = line.inputs.iter().rev();
        open.extend(inputs.map(|input| (input.key.as_str(), Some(input.name.as_str()), depth + 1)));
    }
    out
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() { String::new() } else { format!(" {unit}") }
}

fn one(line: &Line, name: &str, indent: &str) -> String {
    let word = |value: serde_json::Result<String>| value.unwrap_or_default().trim_matches('"').to_owned();
    let origin = word(serde_json::to_string(&line.origin));
    let basis = word(serde_json::to_string(&line.source.basis));
    let unit = spaced(&line.unit);
    let mut out = format!("{indent}{name} = {}{unit}  {}  [{}]\n", line.value, line.meaning, line.key);
    let how = line.formula.as_ref().map_or(String::new(), |formula| format!(": {formula}"));
    out.push_str(&format!("{indent}    {origin}{how}\n{indent}    {basis}: {}\n", line.source.cite));
    if let Some(range) = &line.range {
        out.push_str(&format!("{indent}    holds for {range}\n"));
    }
    out
}
