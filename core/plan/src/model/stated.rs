//! What a plan states beyond what it draws: presence and absence, and the sheet itself.

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
    /// The stated scale as written: `1"=20'`.
    pub scale: Option<At<String>>,
    /// Who drew it.
    pub drawn_by: Option<At<String>>,
}
