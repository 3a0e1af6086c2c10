//! A bar on the terminal while a job takes its time: what is being done, and how many of its sections are.
//!
//! It stands on one line of standard error and is drawn over itself with a carriage return and spaces alone, so every terminal
//! shows it as it is, without colours, and nothing of it stays. Where standard error is no terminal nothing is drawn.

use std::io::{IsTerminal, Write};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::{JoinHandle, spawn};
use std::time::{Duration, Instant};

/// A job that is done sooner gets no bar.
const PATIENCE: Duration = Duration::from_millis(500);
/// It is drawn afresh so often.
const EVERY: Duration = Duration::from_millis(100);
/// Cells of the bar.
const CELLS: usize = 30;

/// How far a job is.
#[derive(Debug, Default)]
struct Work {
    what: &'static str,
    done: usize,
    of: usize,
    over: bool,
}

/// How far it is, and a bell for when it is over.
type Shared = Arc<(Mutex<Work>, Condvar)>;

/// The bar of one job, taken away when it is dropped.
#[derive(Debug)]
pub struct Bar {
    work: Shared,
    drawing: Option<JoinHandle<()>>,
}

impl Bar {
    /// A bar for a job that begins now by reading its files.
    pub fn new() -> Self {
        let work = Shared::default();
        let drawing = std::io::stderr().is_terminal().then(|| {
            let work = Arc::clone(&work);
            spawn(move || draw(&work))
        });
        let bar = Self { work, drawing };
        bar.begins("reading", 0);
        bar
    }

    /// The job goes on with something that so many sections wait for; 0 where nothing can be counted.
    pub fn begins(&self, what: &'static str, of: usize) {
        let mut work = taken(&self.work.0);
        (work.what, work.done, work.of) = (what, 0, of);
    }

    /// One section more is done.
    pub fn step(&self) {
        taken(&self.work.0).done += 1;
    }
}

impl Drop for Bar {
    fn drop(&mut self) {
        taken(&self.work.0).over = true;
        self.work.1.notify_all();
        // A bar that could not be drawn is no reason to stop.
        let _ = self.drawing.take().map(JoinHandle::join);
    }
}

fn taken(work: &Mutex<Work>) -> MutexGuard<'_, Work> {
    work.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Draws until the work is over.
fn draw(work: &Shared) {
    let began = Instant::now();
    let (mut wait, mut width) = (PATIENCE, 0);
    loop {
        let goes_on = |work: &mut Work| !work.over;
        let asleep = work.1.wait_timeout_while(taken(&work.0), wait, goes_on);
        let line = {
            let (work, _) = asleep.unwrap_or_else(PoisonError::into_inner);
            if work.over {
                break;
            }
            line(&work, began.elapsed())
        };
        put(&format!("\r{line:<width$}"));
        (wait, width) = (EVERY, line.len());
    }
    if width > 0 {
        put(&format!("\r{:width$}\r", ""));
    }
}

fn put(text: &str) {
    let mut out = std::io::stderr().lock();
    // A closed terminal is no reason to stop planning.
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

/// The bar as it is drawn.
fn line(work: &Work, took: Duration) -> String {
    let Work { what, done, of, .. } = *work;
    let seconds = took.as_secs();
    if of == 0 {
        return format!("{what}, {seconds} s");
    }
    let cells = CELLS * done.min(of) / of;
    let (full, open) = ("#".repeat(cells), ".".repeat(CELLS - cells));
    format!("{what} [{full}{open}] {done} of {of}, {seconds} s")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_says_how_far_it_is() {
        let at =
            |done, of| line(&Work { what: "proving", done, of, over: false }, Duration::from_millis(3900));
        assert_eq!(at(0, 0), "proving, 3 s");
        assert_eq!(at(0, 3), "proving [..............................] 0 of 3, 3 s");
        assert_eq!(at(1, 3), "proving [##########....................] 1 of 3, 3 s");
        assert_eq!(at(3, 3), "proving [##############################] 3 of 3, 3 s");
    }
}
