//! How a section is fastened in its frame: screws from below, a thread to jack it out by, dowels.

use crate::field::{Field, SIZE, Want};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// What a job asks for; nothing of it is put in unasked. Lengths in mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Fastening {
    /// Screws from below, in blind threads from the back.
    pub screws: Option<Threaded>,
    /// A thread from the cutting face through the block, by which it is jacked out of its cavity.
    pub jack_out: Option<Threaded>,
    /// Dowels in blind holes from the back.
    pub dowels: Option<Dowels>,
}

/// Threads that are asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Threaded {
    /// Name of the thread, one that the facts hold; none: by the width of the block.
    pub thread: Option<Known<String>>,
    /// How many; none: two screws, one thread to jack out by.
    pub count: Option<Known<u32>>,
    /// Depth of full thread; none: two diameters.
    pub depth: Option<Known<f64>>,
}

/// Dowels that are asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Dowels {
    /// Their diameter.
    pub diameter: Known<f64>,
    /// How many; none: two.
    pub count: Option<Known<u32>>,
    /// How deep they go in; none: two diameters.
    pub depth: Option<Known<f64>>,
}

const THREAD: Field =
    Field::new("thread", Want::Text, "metric thread, as in M3; left out: by the width of the block");
const COUNT: Field =
    Field::new("count", Want::Whole(1, 4), "how many; left out: two, and one to jack out by");
const DEPTH: Field = Field::new("depth", Want::Length(SIZE), "depth of full thread; left out: two diameters");
const DIAMETER: Field = Field::required("diameter", Want::Length(SIZE), "diameter of the dowels");
const DOWEL_DEPTH: Field =
    Field::new("depth", Want::Length(SIZE), "how deep the dowels go in; left out: two diameters");

const SCREWS: Field = Field::new(
    "screws",
    Want::Table(&[THREAD, COUNT, DEPTH]),
    "screws from below, in blind threads from the back, made while soft; left out: none",
);
const JACK_OUT: Field = Field::new(
    "jack_out",
    Want::Table(&[THREAD, COUNT, DEPTH]),
    "thread from the cutting face through the block, made while soft, to jack it out of its cavity; left out: none",
);
const DOWELS: Field = Field::new(
    "dowels",
    Want::Table(&[DIAMETER, COUNT, DOWEL_DEPTH]),
    "dowels in blind holes from the back, made while soft, for a section that no cavity locates; left out: none",
);

pub(crate) const FASTENING: Field = Field::new(
    "fastening",
    Want::Table(&[SCREWS, JACK_OUT, DOWELS]),
    "what holds the section in its frame; places are proposed",
);

/// Reads the table of a section.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Fastening {
    let Some(table) = reader.table(part, &FASTENING) else { return Fastening::default() };
    Fastening {
        screws: threaded(reader, &table, &SCREWS),
        jack_out: threaded(reader, &table, &JACK_OUT),
        dowels: dowels(reader, &table),
    }
}

fn threaded(reader: &mut Reader, part: &Part, field: &Field) -> Option<Threaded> {
    let table = reader.table(part, field)?;
    Some(Threaded {
        thread: reader.text(&table, &THREAD),
        count: reader.whole(&table, &COUNT),
        depth: reader.length(&table, &DEPTH),
    })
}

fn dowels(reader: &mut Reader, part: &Part) -> Option<Dowels> {
    let table = reader.table(part, &DOWELS)?;
    let (count, depth) = (reader.whole(&table, &COUNT), reader.length(&table, &DOWEL_DEPTH));
    Some(Dowels { diameter: reader.length(&table, &DIAMETER)?, count, depth })
}
