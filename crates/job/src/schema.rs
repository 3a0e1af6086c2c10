//! JSON Schema of job and shop files, made from the same fields that the reader goes by.

use crate::field::{Field, Limits, Want};
use crate::{job, shop};
use serde_json::{Map, Value, json};

/// Which file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// The job file.
    Job,
    /// The shop file.
    Shop,
}

/// The JSON Schema (draft 2020-12) of a job or shop file. It knows shapes, words and limits; what fits together
/// between fields only the reader knows.
pub fn schema(which: Which) -> Value {
    let (title, fields) = match which {
        Which::Job => ("Kerfwright job file", job::FIELDS),
        Which::Shop => ("Kerfwright shop file", shop::FIELDS),
    };
    let mut schema = table(fields);
    schema.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    schema.insert("title".to_owned(), json!(title));
    Value::Object(schema)
}

fn table(fields: &[Field]) -> Map<String, Value> {
    let properties: Map<String, Value> =
        fields.iter().map(|field| (field.key.to_owned(), described(field))).collect();
    let required: Vec<&str> = fields.iter().filter(|field| field.required).map(|field| field.key).collect();
    let mut table = Map::new();
    table.insert("type".to_owned(), json!("object"));
    table.insert("properties".to_owned(), Value::Object(properties));
    table.insert("required".to_owned(), json!(required));
    table.insert("additionalProperties".to_owned(), json!(false));
    table
}

fn described(field: &Field) -> Value {
    let mut value = wanted(field.want);
    if let Value::Object(map) = &mut value {
        map.insert("description".to_owned(), json!(field.about));
    }
    value
}

fn wanted(want: Want) -> Value {
    match want {
        Want::Text => json!({ "type": "string", "minLength": 1 }),
        Want::Id => json!({ "type": "string", "pattern": "^[A-Za-z0-9_-]+$" }),
        Want::Word(words) => json!({ "enum": words }),
        Want::Length(limits) => length(limits),
        Want::Number(limits, _) => number(limits),
        Want::Whole(least, most) => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Want::Lengths(limits, least, most) => {
            json!({ "type": "array", "items": length(limits), "minItems": least, "maxItems": most })
        }
        Want::Pairs(first, second, _) => json!({ "type": "array", "minItems": 1,
            "items": { "type": "array", "prefixItems": [length(first), number(second)], "minItems": 2, "maxItems": 2 } }),
        Want::Spot(limits) => json!({ "anyOf": [{ "const": "centred" },
            { "type": "array", "items": length(limits), "minItems": 2, "maxItems": 2 }] }),
        Want::Table(fields) => Value::Object(table(fields)),
        Want::Rows(fields) => {
            json!({ "type": "array", "minItems": 1, "items": Value::Object(table(fields)) })
        }
    }
}

fn number(limits: Limits) -> Value {
    json!({ "type": "number", "minimum": limits.least, "maximum": limits.most })
}

/// A length is a number in the file's own unit, so only its sign can be limited here, or text with a unit.
fn length(limits: Limits) -> Value {
    let mut bare = json!({ "type": "number" });
    if limits.least >= 0.0 {
        let bound = if limits.least > 0.0 { "exclusiveMinimum" } else { "minimum" };
        bare[bound] = json!(0);
    }
    json!({ "anyOf": [bare, { "type": "string", "pattern": "^\\s*[-+0-9.eE]+\\s*(mm|in)\\s*$" }] })
}
