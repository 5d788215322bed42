//! What is said of levels that cannot hold together, or lacks something.

use super::said;
use crate::model::{Attribute, Feature, Geometry, Plan};
use crate::reader::{Reader, quote};
use crate::{Gravity, Remark};

/// Levels counted from two datums, contours without a level, walls with levels and no high side.
pub(super) fn remarks(plan: &Plan, reader: &Reader<'_>) -> Vec<Remark> {
    let features = plan.features.iter();
    let mut remarks: Vec<Remark> =
        features.flat_map(|feature| [contour(feature, reader), wall(feature)]).flatten().collect();
    remarks.extend(two_datums(plan));
    remarks
}

fn two_datums(plan: &Plan) -> Option<Remark> {
    let ground = plan.ground.datum.as_ref()?;
    let sheet = plan.sheet.attributes.iter().find(|(name, _)| name.0 == "datum");
    let Attribute::Text(sheet) = &sheet?.1.value else { return None };
    if sheet.trim().to_lowercase() == ground.value.trim().to_lowercase() {
        return None;
    }
    let message = format!(
        "Levels count from {} under [ground] and from {} on the sheet.",
        quote(ground.value.trim()),
        quote(sheet.trim())
    );
    let help = "Name one datum in both places, and bring levels that count from another over to it.";
    Some(said("data::two-datums", Gravity::Suspect, message, ground.span, help))
}

fn contour(feature: &Feature, reader: &Reader<'_>) -> Option<Remark> {
    if feature.stated("level").is_some() || !reader.kinds.is_a(&feature.kind.value, "contour") {
        return None;
    }
    let name = feature.id.value.clone();
    let message = format!("The contour `{}` has no level.", name.0);
    let help =
        "Add `level = \"EG 101\"` with what is written on it; until then it says nothing of the ground.";
    let remark = said("data::contour-without-level", Gravity::Lacking, message, feature.id.span, help);
    Some(Remark { about: vec![name], ..remark })
}

/// Levels of the faces of a wall that cannot be laid out beside it: it is no line, or does not say on which side the
/// higher ground is.
fn wall(feature: &Feature) -> Option<Remark> {
    let bottom = feature.stated("bottom_levels");
    let upper = feature.stated("upper_levels");
    let name = feature.id.value.clone();
    if let Some(face) = bottom.or(upper).filter(|_| !matches!(feature.geometry, Some(Geometry::Line { .. })))
    {
        let message =
            format!("`{}` is no line, so its levels above and below have no side of their own.", name.0);
        let help = "Draw it as a `line` along its middle with a `width`; until then these levels are not taken for the \
                    ground.";
        let remark = said("data::wall-not-a-line", Gravity::Lacking, message, face.span, help);
        return Some(Remark { about: vec![name], ..remark });
    }
    let (bottom, top) = (bottom?, upper.or_else(|| feature.stated("top_levels"))?);
    if feature.stated("high_side").is_some() {
        return None;
    }
    let message = format!("`{}` does not say on which side of it the ground is higher.", name.0);
    let help = "Add `high_side = \"left\"` or `\"right\"`, as one goes along it from its first point; until then its \
                levels are not taken for the ground.";
    let span = bottom.span.min(top.span);
    let remark = said("data::wall-without-high-side", Gravity::Lacking, message, span, help);
    Some(Remark { about: vec![name], ..remark })
}
