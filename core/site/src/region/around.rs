//! The ground around a feature.

use groundrule_plan::Name;
use groundrule_survey::Shape;
use groundrule_units::Length;

use super::solid::{Solid, around_path, around_ring, disc};
use super::{Draft, usable};
use crate::shape::piece::{Piece, pieces};
use crate::{FeatureId, Site};

impl Site {
    /// All ground within a reach of a feature, the feature itself taken in, cut by the outline of its own lot if
    /// asked. None for what is not drawn or, if asked to be cut, on no drawn lot, and for a reach that is not
    /// above nothing.
    pub fn around(&self, feature: FeatureId, reach: Length, within_lot: bool) -> Option<Draft> {
        let reach = usable(reach)?;
        let of = self.feature(feature)?;
        let pieces: Vec<Piece<'_>> = self.shapes(feature).flat_map(pieces).collect();
        if pieces.is_empty() {
            return None;
        }
        let within = if within_lot {
            match &self.feature(of.lot?)?.shape {
                Shape::Outline { ring, holes } => Some(Solid::area(ring, holes)),
                _ => return None,
            }
        } else {
            None
        };
        Some(Draft {
            solids: pieces.iter().flat_map(|piece| around_piece(piece, reach)).collect(),
            within,
            name: Name(format!("around {}", of.id.0)),
            title: format!("the ground around {}", of.title),
            lot: of.lot,
            span: of.span,
        })
    }
}

fn around_piece(piece: &Piece<'_>, reach: f64) -> Vec<Solid> {
    match piece {
        Piece::Area { ring, holes } => {
            let whole = Solid::area(ring, holes);
            let about = piece.rings().flat_map(|ring| around_ring(ring, reach));
            std::iter::once(whole).chain(about).collect()
        }
        Piece::Path(path) => around_path(path, reach),
        Piece::Disc { centre, radius } => vec![disc(centre, radius + reach)],
    }
}
