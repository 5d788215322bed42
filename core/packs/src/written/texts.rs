//! Texts of a pack file, each with an example of its own for messages and for the reference page.

use groundrule_plan::reader::{Read, Reader, Shape, Value, is_name, quote, span_of};

/// A type that holds any text, with its example.
macro_rules! text {
    ($(#[$doc:meta])* $name:ident, $example:literal) => {
        $(#[$doc])*
        #[derive(Clone, Debug)]
        pub(crate) struct $name(pub(crate) String);

        impl AsRef<str> for $name {
            fn as_ref(&self) -> &str {
                &self.0
            }
        }

        impl Read for $name {
            fn shape() -> Shape {
                Shape::Text($example)
            }

            fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
                match value.get_ref().as_str() {
                    Some(text) => Some(Self(text.to_owned())),
                    None => reader.wrong_type::<Self, _>(value),
                }
            }
        }
    };
}

text!(
    /// Words for a person.
    Phrase,
    "In a few words"
);
text!(
    /// The version of a pack.
    Version,
    "1.0.0"
);
text!(
    /// A formula that gives yes or no.
    Condition,
    "subject.height > feet(6)"
);
text!(
    /// A formula that gives an amount.
    Expression,
    "greatest(feet(5), subject.height / 2)"
);
text!(
    /// The name of a stated fact.
    FactName,
    "height_above_grade"
);
text!(
    /// The dotted name of a fact.
    Dotted,
    "site.district"
);
text!(
    /// The name of a district.
    District,
    "R-2"
);
text!(
    /// A message with placeholders.
    Message,
    "{subject} stands {shown} from {other}; {limit} is asked for."
);

/// The name of a pack, a rule or a class. It becomes part of a finding's id.
#[derive(Clone, Debug)]
pub(crate) struct Slug(pub(crate) String);

impl AsRef<str> for Slug {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl Read for Slug {
    fn shape() -> Shape {
        Shape::Text("side-yard")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.is_empty() && text.chars().all(fits) {
            return Some(Self(text.to_owned()));
        }
        let near: String = text
            .trim()
            .chars()
            .take(40)
            .map(|c| c.to_ascii_lowercase())
            .map(|c| if fits(c) { c } else { '-' })
            .collect();
        let near = match near.trim_matches('-') {
            "" => String::new(),
            near => format!("; `{near}` would do"),
        };
        let message = format!("{} cannot be {}.", reader.where_am_i(), quote(text));
        let help = format!("It is made of lower-case letters, digits and hyphens{near}.");
        reader.fault_help("pack::bad-name", message, span_of(value), "not such a name", help)
    }
}

/// The name of a check: a module and one of its checks.
#[derive(Clone, Debug)]
pub(crate) struct CheckName(pub(crate) String);

impl Read for CheckName {
    fn shape() -> Shape {
        Shape::Text("setbacks/separation")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        match text.split_once('/') {
            Some((module, name)) if is_name(module) && is_name(name) => Some(Self(text.to_owned())),
            _ => {
                let message = format!("{} does not name a check.", quote(text));
                let help = "Write the module and its check, as `setbacks/separation`.";
                reader.fault_help("pack::check", message, span_of(value), "not a check", help)
            }
        }
    }
}
