//! What may be written somewhere: the one description that the schema, the reference page and messages share.

/// What may be written at one place of a file.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Any words; with an example.
    Text(&'static str),
    /// A number without a unit; with an example.
    Number(&'static str),
    /// A whole number from 0.
    Count,
    /// `true` or `false`.
    Flag,
    /// A date.
    Date,
    /// One of these words.
    Words(Vec<Word>),
    /// A list of at least so many, all alike.
    List {
        /// What each is.
        of: Box<Shape>,
        /// The fewest.
        least: usize,
        /// The most, if bounded.
        most: Option<usize>,
    },
    /// A table whose keys are names a person chooses.
    Map {
        /// What the keys are: `point name`.
        keys: &'static str,
        /// What each value is.
        of: Box<Shape>,
    },
    /// A table of known keys.
    Table(TableShape),
    /// Any of several ways to write it.
    Any(Vec<Shape>),
    /// A way of writing that has a name and a paragraph of its own on the reference page.
    Form(Form),
}

/// A word that may be written, and what it means.
#[derive(Clone, Debug, PartialEq)]
pub struct Word {
    /// As written.
    pub word: String,
    /// What it means.
    pub doc: String,
}

/// A way of writing with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    /// Its name: `length`.
    pub name: &'static str,
    /// What it is, for the reference page.
    pub doc: &'static str,
    /// An example, as TOML.
    pub example: &'static str,
    /// What may be written.
    pub of: Box<Shape>,
}

/// A table of known keys.
#[derive(Clone, Debug, PartialEq)]
pub struct TableShape {
    /// Its name, unique in its file: `Feature`.
    pub name: &'static str,
    /// What it is.
    pub doc: String,
    /// Its keys.
    pub fields: Vec<Field>,
    /// True when other keys may stand in it too.
    pub open: bool,
}

/// One key of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What it means.
    pub doc: String,
    /// True when it must be there.
    pub required: bool,
    /// What may be written.
    pub shape: Shape,
}

impl Shape {
    /// What is expected, to be read inside a sentence: `a length`.
    pub fn in_words(&self) -> String {
        match self {
            Self::Text(_) => "text".to_owned(),
            Self::Number(_) => "a number".to_owned(),
            Self::Count => "a whole number".to_owned(),
            Self::Flag => "`true` or `false`".to_owned(),
            Self::Date => "a date".to_owned(),
            Self::Words(words) => {
                let words: Vec<String> = words.iter().map(|word| format!("`{}`", word.word)).collect();
                format!("one of {}", words.join(", "))
            }
            Self::List { of, .. } => format!("a list, each {}", of.in_words()),
            Self::Map { keys, .. } => format!("a table with a key for each {keys}"),
            Self::Table(_) => "a table".to_owned(),
            Self::Any(shapes) => {
                let words: Vec<String> = shapes.iter().map(Self::in_words).collect();
                words.join(", or ")
            }
            Self::Form(form) => {
                let article = match form.name {
                    name if name.ends_with('s') => "",
                    name if name.starts_with(['a', 'e', 'i', 'o', 'u']) => "an ",
                    _ => "a ",
                };
                format!("{article}{}", form.name)
            }
        }
    }

    /// One way to write it, as TOML.
    pub fn example(&self) -> String {
        match self {
            Self::Text(example) => format!("\"{example}\""),
            Self::Number(example) => (*example).to_owned(),
            Self::Count => "2".to_owned(),
            Self::Flag => "true".to_owned(),
            Self::Date => "2026-05-01".to_owned(),
            Self::Words(words) => words.first().map(|word| format!("\"{}\"", word.word)).unwrap_or_default(),
            Self::List { of, least, .. } => {
                let items = vec![of.example(); (*least).max(1)];
                format!("[{}]", items.join(", "))
            }
            Self::Map { of, .. } => format!("{{ name = {} }}", of.example()),
            Self::Table(table) => table.example(),
            Self::Any(shapes) => shapes.first().map(Self::example).unwrap_or_default(),
            Self::Form(form) => form.example.to_owned(),
        }
    }
}

impl TableShape {
    /// The table with the keys it must have, written on one line.
    fn example(&self) -> String {
        let keys = self.example_keys();
        let keys: Vec<&str> = keys.iter().map(|key| key.trim_matches('`')).collect();
        format!("{{ {} }}", keys.join(", "))
    }

    /// The keys it must have, or its first, each with an example and between backticks.
    pub fn example_keys(&self) -> Vec<String> {
        let mut keys: Vec<&Field> = self.fields.iter().filter(|field| field.required).collect();
        if keys.is_empty() {
            keys.extend(self.fields.first());
        }
        keys.iter().map(|field| format!("`{} = {}`", field.key, field.shape.example())).collect()
    }
}
