//! Layers that a person does not see: frozen ones and those turned off.

use crate::group::Group;
use crate::number;
use remark::{Place, Remark};
use std::collections::BTreeMap;

/// The hidden layers of a drawing, and how many entities of each were used all the same.
#[derive(Debug, Default)]
pub(crate) struct Layers {
    hidden: BTreeMap<String, Hidden>,
}

#[derive(Debug)]
struct Hidden {
    how: &'static str,
    used: u64,
    first: u32,
}

impl Layers {
    /// Takes in one LAYER record of the tables.
    pub(crate) fn declare(&mut self, groups: &[Group]) {
        let value = |code| groups.iter().find(|g| g.code == code);
        let whole = |code| value(code).and_then(|g| number::integer(g, "LAYER").ok());
        let how = match (whole(70), whole(62)) {
            (Some(flags), _) if flags & 1 != 0 => "frozen",
            (_, Some(colour)) if colour < 0 => "turned off",
            _ => return,
        };
        if let Some(name) = value(2) {
            self.hidden.insert(name.text(), Hidden { how, used: 0, first: 0 });
        }
    }

    /// Counts an entity that was used.
    pub(crate) fn used(&mut self, layer: &str, line: u32) {
        if let Some(hidden) = self.hidden.get_mut(layer) {
            hidden.first = if hidden.used == 0 { line } else { hidden.first };
            hidden.used += 1;
        }
    }

    /// A note for every hidden layer that was used.
    pub(crate) fn notes(&self, file: &str) -> impl Iterator<Item = Remark> {
        self.hidden.iter().filter(|(_, hidden)| hidden.used > 0).map(move |(name, hidden)| {
            let message = format!(
                "layer '{name}' is {}; {} of its entities are used all the same",
                hidden.how, hidden.used
            );
            Remark::note("layer-hidden", message).place(Place::file(file).line(hidden.first))
        })
    }
}
