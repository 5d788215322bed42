//! A [`Shape`] as JSON Schema, draft 7, which editors of TOML understand.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::KindTree;
use crate::reader::{Field, Shape, TableShape};
use crate::written::feature::is_of_features;

/// The schema of a whole file, as text.
pub fn write(shape: &Shape, title: &str, doc: &str) -> String {
    let mut writer = Writer::default();
    let mut schema = match shape {
        Shape::Table(table) => writer.table(table),
        other => writer.schema(other),
    };
    schema.insert("$schema".to_owned(), json!("http://json-schema.org/draft-07/schema#"));
    schema.insert("title".to_owned(), json!(title));
    schema.insert("description".to_owned(), json!(doc));
    let definitions: Map<String, Value> =
        writer.definitions.into_iter().map(|(name, schema)| (name, Value::Object(schema))).collect();
    schema.insert("definitions".to_owned(), Value::Object(definitions));
    let mut text = format!("{:#}", Value::Object(schema));
    text.push('\n');
    text
}

type Schema = Map<String, Value>;

#[derive(Default)]
struct Writer {
    definitions: BTreeMap<String, Schema>,
}

impl Writer {
    fn schema(&mut self, shape: &Shape) -> Schema {
        match shape {
            Shape::Text(_) => object([("type", json!("string"))]),
            // TOML has its own dates; editors hand them to a schema as texts.
            Shape::Date => {
                object([("type", json!("string")), ("pattern", json!("^[0-9]{4}-[0-9]{2}-[0-9]{2}$"))])
            }
            Shape::Number(_) => object([("type", json!("number"))]),
            Shape::Count => {
                object([("type", json!("integer")), ("minimum", json!(0)), ("maximum", json!(u32::MAX))])
            }
            Shape::Flag => object([("type", json!("boolean"))]),
            Shape::Words(words) => {
                let words: Vec<&str> = words.iter().map(|word| word.word.as_str()).collect();
                object([("type", json!("string")), ("enum", json!(words))])
            }
            Shape::List { of, least, most } => {
                let mut list = object([("type", json!("array")), ("items", self.value(of))]);
                if *least > 0 {
                    list.insert("minItems".to_owned(), json!(least));
                }
                if let Some(most) = most {
                    list.insert("maxItems".to_owned(), json!(most));
                }
                list
            }
            Shape::Map { of, .. } => {
                object([("type", json!("object")), ("additionalProperties", self.value(of))])
            }
            Shape::Any(shapes) => {
                let ways: Vec<Value> = shapes.iter().map(|shape| self.value(shape)).collect();
                object([("anyOf", json!(ways))])
            }
            Shape::Table(table) => {
                if !self.definitions.contains_key(table.name) {
                    self.definitions.insert(table.name.to_owned(), Schema::new());
                    let schema = self.table(table);
                    self.definitions.insert(table.name.to_owned(), schema);
                }
                reference(table.name)
            }
            Shape::Form(form) => {
                if !self.definitions.contains_key(form.name) {
                    self.definitions.insert(form.name.to_owned(), Schema::new());
                    let mut schema = self.schema(&form.of);
                    schema.insert("description".to_owned(), json!(form.doc));
                    self.definitions.insert(form.name.to_owned(), schema);
                }
                reference(form.name)
            }
        }
    }

    fn value(&mut self, shape: &Shape) -> Value {
        Value::Object(self.schema(shape))
    }

    fn table(&mut self, table: &TableShape) -> Schema {
        let mut properties = Map::new();
        for field in &table.fields {
            properties.insert(field.key.to_owned(), self.field(field));
        }
        let required: Vec<&str> =
            table.fields.iter().filter(|field| field.required).map(|field| field.key).collect();
        if table.open {
            // Attributes of the standard kinds are offered; packs may add more, so no key is refused.
            let kinds = KindTree::standard();
            for (name, attribute) in kinds.attributes().filter(|(name, _)| is_of_features(name, &kinds)) {
                let shape = crate::written::attributes::shape_of(attribute.kind);
                let field = Field { key: "", doc: attribute.doc.clone(), required: false, shape };
                properties.insert(name.to_owned(), self.field(&field));
            }
        }
        object([
            ("type", json!("object")),
            ("description", json!(table.doc)),
            ("properties", Value::Object(properties)),
            ("required", json!(required)),
            ("additionalProperties", json!(table.open)),
        ])
    }

    fn field(&mut self, field: &Field) -> Value {
        let mut schema = self.schema(&field.shape);
        // Beside a reference draft 7 reads nothing, so the reference goes one deeper.
        if let Some(reference) = schema.remove("$ref") {
            schema.insert("allOf".to_owned(), json!([{ "$ref": reference }]));
        }

        schema.insert("description".to_owned(), json!(field.doc));
        Value::Object(schema)
    }
}

fn object<const N: usize>(pairs: [(&str, Value); N]) -> Schema {
    pairs.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()
}

fn reference(name: &str) -> Schema {
    object([("$ref", json!(format!("#/definitions/{}", name.replace(' ', "%20"))))])
}
