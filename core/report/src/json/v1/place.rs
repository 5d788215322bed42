//! Places: on the plan and in its file.

use groundrule_survey::Position;
use schemars::JsonSchema;
use serde::Serialize;

/// What to draw, in metres on the sheet as the plan writes its coordinates: x to the right, y up.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Mark {
    /// A place.
    Spot {
        /// x and y.
        at: [f64; 2],
    },
    /// A dimension from one place to another.
    Span {
        /// x and y of its start.
        from: [f64; 2],
        /// x and y of its end.
        to: [f64; 2],
    },
    /// A ring to be shaded; its first point is not repeated.
    Region {
        /// x and y of each corner.
        ring: Vec<[f64; 2]>,
    },
}

impl Mark {
    /// The mark, moved by the shift of the local origin.
    pub(super) fn of(mark: &groundrule_site::Mark, shift: Position) -> Self {
        let place = |at: &Position| place(*at, shift);
        match mark {
            groundrule_site::Mark::Spot(at) => Self::Spot { at: place(at) },
            groundrule_site::Mark::Span(from, to) => Self::Span { from: place(from), to: place(to) },
            groundrule_site::Mark::Region(ring) => Self::Region { ring: ring.iter().map(place).collect() },
        }
    }
}

/// A place on the sheet as the plan writes its coordinates, in metres.
pub(super) fn place(at: Position, shift: Position) -> [f64; 2] {
    // A tenth of a millimetre is finer than anything on a site.
    let round = |metres: f64| (metres * 1e4).round() / 1e4 + 0.0;
    [round((at.x + shift.x).metres()), round((at.y + shift.y).metres())]
}

/// A place in the plan file, both from 1; columns count characters.
#[derive(Debug, Serialize, JsonSchema)]
pub struct At {
    /// The line.
    pub line: u32,
    /// The column.
    pub column: u32,
}

impl At {
    pub(super) fn of((line, column): (u32, u32)) -> Self {
        Self { line, column }
    }
}
