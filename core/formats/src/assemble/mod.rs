//! Layers of a map to a plan.

mod ground;
mod lots;
mod names;
mod things;

use std::collections::BTreeMap;

use groundrule_plan::{
    Accuracy, AccuracyClass, At, Faults, Gravity, GroundFacts, KindTree, Name, North, Plan, Remark, Sheet,
    SiteFacts, Span,
};
use groundrule_units::{Angle, SheetUnit};

use crate::drawn::{Drawn, Frame, Part};
use crate::gather::Gather;
use crate::remarks::{count, remark};
use crate::{LonLat, Options, Use};

pub(crate) use names::{Names, corner, written};

/// The accuracy class everything read from a map is in.
pub(crate) const MAP: &str = "map";

/// A plan of everything drawn. `left_out` counts the things of layers nobody named.
pub(crate) fn assemble(
    mut gather: Gather<'_>,
    frame: &Frame,
    mut drawn: Vec<Drawn>,
    left_out: &BTreeMap<String, usize>,
    options: &Options,
) -> Result<Plan, Faults> {
    check_parts(&mut gather, &drawn);
    check_kinds(&mut gather, options);
    if drawn.is_empty() && gather.is_empty() {
        gather.add(
            "formats::nothing-to-read",
            "the layers that were named are empty",
            (Span::default(), "the whole file"),
            "export them again, or name others",
        );
    }
    if !gather.is_empty() {
        return Err(gather.into_faults());
    }
    let centre = ground::to_plane(&mut gather, frame, &mut drawn, options);
    if !gather.is_empty() {
        return Err(gather.into_faults());
    }
    let mut remarks = vec![map_remark(options)];
    remarks.extend(frame_remark(frame));
    remarks.extend(left_out_remark(left_out));
    let mut names = Names::default();
    let (lots, outlines) = lots::lots(&drawn, options, &mut names, &mut remarks);
    let features = things::features(&drawn, &lots, &outlines, &mut names, &mut remarks);
    Ok(Plan {
        source: gather.source().clone(),
        site: site(options, centre),
        accuracy: BTreeMap::from([(
            Name(MAP.to_owned()),
            AccuracyClass::plain(options.accuracy.clone(), Span::default()),
        )]),
        points: Vec::new(),
        measurements: Vec::new(),
        lots,
        features,
        declared: BTreeMap::new(),
        sheet: Sheet::default(),
        ground: GroundFacts::default(),
        remarks,
    })
}

fn site(options: &Options, centre: Option<LonLat>) -> SiteFacts {
    SiteFacts {
        name: options.title.clone(),
        units: SheetUnit::Metres,
        // The local plane has true north up at its centre; a drawing tied to no place says nothing of it.
        north: centre.map(|_| North {
            clockwise_of_up: Angle::ZERO,
            text: "up".to_owned(),
            span: Span::default(),
        }),
        latitude: centre.map(|centre| centre.latitude),
        longitude: centre.map(|centre| centre.longitude),
        district: None,
        overlays: Vec::new(),
        filed: None,
        permit: None,
        by: Some(Accuracy::Class(At { value: Name(MAP.to_owned()), span: Span::default() })),
    }
}

/// Lots and buildings are outlines, streets are lines.
fn check_parts(gather: &mut Gather<'_>, drawn: &[Drawn]) {
    for thing in drawn {
        let (fits, wanted): (fn(&Part) -> bool, _) = match thing.role {
            Use::Lots => (|part| matches!(part, Part::Area { .. }), "a lot is an outline"),
            Use::Buildings => (|part| matches!(part, Part::Area { .. }), "a building is an outline"),
            Use::Streets => (|part| matches!(part, Part::Line(_)), "a street is the line of its middle"),
            Use::Kind(_) => continue,
        };
        if let Some(part) = thing.parts.iter().find(|part| !fits(part)) {
            gather.add(
                "formats::wrong-shape",
                format!("`{}` is {}, but {wanted}", thing.id, part.noun()),
                (thing.span, "this one"),
                "name the right layer for this use, or export the layer with the shape it needs",
            );
        }
    }
}

/// A layer can only be of a kind that plans know.
fn check_kinds(gather: &mut Gather<'_>, options: &Options) {
    let kinds = KindTree::standard();
    for kind in options.kinds().filter(|kind| kinds.get(kind).is_none()) {
        gather.add(
            "formats::unknown-kind",
            format!("there is no kind `{kind}`"),
            (Span::default(), "the whole file"),
            "take a kind of the plan format, such as tree, pool or utility-easement",
        );
    }
}

fn map_remark(options: &Options) -> Remark {
    remark(
        "data::map-accuracy",
        Gravity::Noted,
        format!(
            "Everything is read from a map: taken as existing, each corner good to ±{} (95 %).",
            options.accuracy.text
        ),
        Vec::new(),
        Some("State how the map was made if that is known; what matters, measure on the ground."),
    )
}

fn frame_remark(frame: &Frame) -> Option<Remark> {
    let Frame::Earth(system) = frame else {
        let Frame::Flat(unit) = frame else { return None };
        return Some(remark(
            "data::no-system",
            Gravity::Lacking,
            format!(
                "The file names no coordinate system; its numbers are taken as {}s on a flat plane.",
                unit.name()
            ),
            Vec::new(),
            Some("Check one known length; the place on the earth and true north stay unknown."),
        ));
    };
    let mut message = format!("Coordinates in {} were put on a local plane in metres", system.name());
    if system.is_web_mercator() {
        message.push_str("; Web Mercator is never measured, its lengths are too long by one over the cosine of the latitude");
    }
    message.push('.');
    let equal = system.ellipsoid().equatorial_radius.metres() - 6_378_137.0;
    if equal.abs() > 0.5 {
        message.push_str(
            " Its datum is not WGS 84: the latitude and longitude shown may be some hundred metres off, the measurements are not.",
        );
    }
    Some(remark("data::local-plane", Gravity::Noted, message, Vec::new(), None))
}

fn left_out_remark(left_out: &BTreeMap<String, usize>) -> Option<Remark> {
    if left_out.is_empty() {
        return None;
    }
    let list: Vec<String> = left_out
        .iter()
        .map(|(layer, things)| match layer.as_str() {
            "" => format!("things of no layer ({things})"),
            layer => format!("`{layer}` ({things})"),
        })
        .collect();
    Some(remark(
        "data::layers-left-out",
        Gravity::Noted,
        format!(
            "{} left out, as nobody said what is in it: {}.",
            count(list.len(), "layer"),
            list.join(", ")
        ),
        Vec::new(),
        Some("Name a layer and what it holds to read it."),
    ))
}
