//! `kerfwright schema`: the JSON Schema of each document.

use crate::args::{SchemaArgs, SchemaOf};
use crate::exit::Exit;
use crate::survey::print_json;

/// Runs the command.
pub fn run(args: &SchemaArgs) -> Exit {
    let schema = match args.of {
        SchemaOf::Job => job::schema(job::Which::Job),
        SchemaOf::Shop => job::schema(job::Which::Shop),
        SchemaOf::Plan => schemars::schema_for!(package::Plan).to_value(),
        SchemaOf::Survey => schemars::schema_for!(package::Survey).to_value(),
        SchemaOf::Proof => schemars::schema_for!(package::Proof).to_value(),
    };
    if print_json(&schema) { Exit::Done } else { Exit::Other }
}
