//! `plan`, `prove` and `why`: from files to a package and back.

use crate::answer;
use crate::args::{PlanArgs, ProveArgs, WhyArgs};
use crate::date;
use crate::evidence;
use crate::exit::Exit;
use crate::gather::{self, Gathered};
use crate::remarks::{self, Sources};
use crate::store::{self, Files, Refusal};
use crate::survey::print_json;
use package::{InputFile, Line, Plan, Proof};
use plan::{Planned, Task};
use proof::Evidence;
use remark::{Place, Remark};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Runs `plan`.
pub fn plan(args: &PlanArgs) -> Exit {
    let (gathered, sources) = match gather::gather(args) {
        Ok(gathered) => gathered,
        Err((faults, sources)) => return refuse(&faults, &sources),
    };
    let target = match target(args, &gathered.job.name) {
        Ok(target) => target,
        Err(remark) => return refuse(&[remark], &sources),
    };
    let planned = match make(args, &gathered) {
        Ok(planned) => planned,
        Err(faults) => return refuse(&faults, &sources),
    };
    let (files, proof) = match proven(&planned, &gathered) {
        Ok(proven) => proven,
        Err(error) => return other(&format!("the plan cannot be written as JSON: {error}")),
    };
    match store::write(&target, &files) {
        Ok(()) => {}
        Err(Refusal::NotOurs(path)) => return refuse(&[not_ours(&path)], &sources),
        Err(Refusal::Disk(error)) => return other(&format!("cannot write {}: {error}", target.display())),
    }
    let printed = match args.json {
        true => print_json(&planned.plan),
        false => answer::print(
            &(answer::planned(&planned.plan, &proof) + &format!("package: {}\n", target.display())),
        ),
    };
    remarks::say(&planned.plan.remarks, &sources);
    match (printed, proof.holds, planned.plan.sections.iter().all(|section| section.makeable)) {
        (false, _, _) => Exit::Other,
        (_, false, _) => Exit::ProofFailed,
        (_, _, false) => Exit::NotHere,
        _ => Exit::Done,
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

fn make(args: &PlanArgs, gathered: &Gathered) -> Result<Planned, Vec<Remark>> {
    let facts = job::Facts::load()?;
    let date = args.date.clone().unwrap_or_else(date::today);
    let task =
        Task { job: &gathered.job, shop: &gathered.shop, facts: &facts, date: &date, drawn: &gathered.drawn };
    let mut planned = plan::plan(&task)?;
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
fn proven(planned: &Planned, gathered: &Gathered) -> Result<(Files, Proof), serde_json::Error> {
    let mut files = Files::new();
    let plan = json(&planned.plan)?;
    let programs: BTreeMap<String, Vec<u8>> =
        planned.programs.iter().map(|(path, text)| (path.clone(), text.clone().into_bytes())).collect();
    let proof = proof::prove(&Evidence {
        plan: serde_json::from_slice(&plan)?,
        inputs: gathered.inputs.clone(),
        programs: programs.clone(),
    });
    files.insert("plan.json".to_owned(), plan);
    files.insert("proof.json".to_owned(), json(&proof)?);
    for (path, bytes) in &gathered.inputs {
        files.insert(format!("inputs/{path}"), bytes.clone());
    }
    if proof.holds {
        files.extend(programs);
    }
    for section in &planned.plan.sections {
        let svg = sheet::section_sheet(&planned.plan, section).to_svg();
        files.insert(format!("drawings/{}.svg", section.id), svg.into_bytes());
    }
    Ok((files, proof))
}

fn json<T: serde::Serialize>(document: &T) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(document)?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Runs `prove`.
pub fn prove(args: &ProveArgs) -> Exit {
    let evidence = match evidence::read(&args.package) {
        Ok(evidence) => evidence,
        Err(remark) => return refuse(&[remark], &Sources::new()),
    };
    let proof = proof::prove(&evidence);
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
    let near = plan.reckoning.iter().filter(|line| line.key.ends_with(tail)).take(5);
    let remark =
        Remark::error("unknown-key", format!("the reckoning has no line `{key}`")).place(Place::default());
    near.fold(remark, |remark, line| remark.cure(format!("the key {}", line.key)))
}

/// A number and, below it, everything it came from, each once.
fn derivation(plan: &Plan, key: &str) -> String {
    let mut out = String::new();
    let mut said: Vec<&str> = Vec::new();
    let mut open: Vec<(&str, usize)> = vec![(key, 0)];
    while let Some((key, depth)) = open.pop() {
        let Some(line) = plan.reckoning.iter().find(|line| line.key == key) else { continue };
        let indent = "  ".repeat(depth);
        if said.contains(&key) {
            out.push_str(&format!("{indent}{} = {} {}  (above)\n", line.symbol, line.value, line.unit));
            continue;
        }
        said.push(key);
        out.push_str(&one(line, &indent));
        open.extend(line.inputs.iter().rev().map(|input| (input.key.as_str(), depth + 1)));
    }
    out
}

fn one(line: &Line, indent: &str) -> String {
    let word = |value: serde_json::Result<String>| value.unwrap_or_default().trim_matches('"').to_owned();
    let origin = word(serde_json::to_string(&line.origin));
    let basis = word(serde_json::to_string(&line.source.basis));
    let unit = if line.unit.is_empty() { String::new() } else { format!(" {}", line.unit) };
    let mut out =
        format!("{indent}{} = {}{unit}  {}  [{}]\n", line.symbol, line.value, line.meaning, line.key);
    let how = line.formula.as_ref().map_or(String::new(), |formula| format!(": {formula}"));
    out.push_str(&format!("{indent}    {origin}{how}\n{indent}    {basis}: {}\n", line.source.cite));
    if let Some(range) = &line.range {
        out.push_str(&format!("{indent}    holds for {range}\n"));
    }
    out
}
