//! What a plan states beyond what it draws: presence and absence, and the sheet itself.

use std::collections::BTreeMap;

use groundrule_units::{Length, Scale, Written};

use super::{Accuracy, Attribute, Name, North};
use crate::{At, Span};

/// What the plan says about the presence of a subject.
#[derive(Clone, Debug, PartialEq)]
pub struct Declaration {
    /// None, shown or unknown.
    pub presence: Presence,
    /// Who says so.
    pub said_by: Option<String>,
    /// Where.
    pub span: Span,
}

/// Whether a subject is on the lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presence {
    /// There is none.
    None,
    /// All there are stand on the plan.
    Shown,
    /// Nobody has looked.
    Unknown,
}

/// What the sheet itself states.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// Its date, `YYYY-MM-DD`.
    pub date: Option<At<String>>,
    /// The stated scale.
    pub scale: Option<At<Written<Scale>>>,
    /// A dimension taken off the print with a ruler.
    pub checked: Option<CheckedLength>,
    /// Where the drawn north arrow points, counted as north is.
    pub arrow: Option<North>,
    /// Who drew it.
    pub drawn_by: Option<At<String>>,
    /// Its width and height on paper.
    pub size: Option<At<(Written<Length>, Written<Length>)>>,
    /// All else, by its key.
    pub attributes: BTreeMap<Name, At<Attribute>>,
    /// Where; empty when the plan has no `[sheet]`.
    pub span: Span,
}

/// A dimension of the drawing as its text says it and as a ruler finds it on the paper.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckedLength {
    /// What the text says; more than zero.
    pub said: Written<Length>,
    /// What the ruler says; more than zero.
    pub on_paper: Written<Length>,
    /// How well the ruler was read.
    pub by: Accuracy,
    /// Where.
    pub span: Span,
}
