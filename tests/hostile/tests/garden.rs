//! A small invented garden: a house, a shed 3 m east of it, a round pond, a stated tree, on one lot.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_plan::{
    At, Attribute, Feature, GroundFacts, KindTree, Lot, Name, Path, Plan, Role, Sheet, SiteFacts, Source,
    Span, Status,
};
use groundrule_site::{Parameter, Site};
use groundrule_survey::{
    ErrorTerms, Ground, GroundLevel, Layout, Point, Position, ResolvedLot, ResolvedSide, Shape, SourceId,
    Surface,
};
use groundrule_units::{Length, Mark, Quantity, SheetUnit, Speed, Written};

/// Standard uncertainty of each coordinate of the shed, in metres.
pub(crate) const SHED_SIGMA: f64 = 0.1;

/// How far the witness looks.
pub(crate) fn reach() -> Parameter {
    Parameter::Quantity(Quantity::from(Length::from_metres(10.0)))
}

/// How hard it rains on the garden.
pub(crate) fn rate() -> Parameter {
    Parameter::Quantity(Quantity::from(Speed::from_millimetres_per_hour(2500.0)))
}

pub(crate) fn site() -> Arc<Site> {
    let features = vec![
        feature("house", "Main house\u{1b}[7m", "dwelling", Some(Status::Existing)),
        feature("shed", "Tool shed", "shed", Some(Status::Proposed)),
        feature("pond", "Round pond", "pond", None),
        feature("tree", "Stated tree", "tree", None),
        feature("fence", "Stepped fence", "fence", Some(Status::Existing)),
    ];
    let layout = Layout {
        lots: vec![lot_shape()],
        shapes: vec![
            Shape::Outline {
                ring: ring(&[[5.0, 5.0], [15.0, 5.0], [15.0, 13.0], [5.0, 13.0]]),
                holes: Vec::new(),
            },
            Shape::Outline { ring: shed(), holes: Vec::new() },
            Shape::Disc { centre: exact([10.0, 20.0]), radius: Length::from_metres(2.0) },
            Shape::Absent,
            Shape::Line { path: ring(&[[2.0, 28.0], [28.0, 28.0]]), width: Length::ZERO },
        ],
        ground: Ground { levels: levels(), ..Ground::default() },
        ..Layout::default()
    };
    let plan = Plan {
        source: Source { name: "garden.toml".to_owned(), text: Arc::from("") },
        site: SiteFacts {
            name: "Tern Hollow".to_owned(),
            units: SheetUnit::Metres,
            north: None,
            latitude: None,
            longitude: None,
            district: None,
            overlays: Vec::new(),
            filed: None,
            permit: None,
            by: None,
        },
        accuracy: BTreeMap::new(),
        points: Vec::new(),
        measurements: Vec::new(),
        lots: vec![lot()],
        features,
        declared: BTreeMap::new(),
        sheet: Sheet::default(),
        ground: GroundFacts::default(),
        remarks: Vec::new(),
    };
    Arc::new(Site::build(&plan, &layout, KindTree::standard()).0)
}

fn at<T>(value: T) -> At<T> {
    At { value, span: Span::default() }
}

fn exact([x, y]: [f64; 2]) -> Point {
    let at = Position { x: Length::from_metres(x), y: Length::from_metres(y) };
    Point { at, error: ErrorTerms::Exact }
}

fn ring(places: &[[f64; 2]]) -> Vec<Point> {
    places.iter().copied().map(exact).collect()
}

/// Ground that falls to the front, with a bank along the rear, a hollow before it, and the front of the house regraded.
fn levels() -> Vec<GroundLevel> {
    let taken = [
        [0.0, 0.0, 9.0],
        [30.0, 0.0, 9.0],
        [0.0, 26.0, 10.0],
        [30.0, 26.0, 10.0],
        [0.0, 30.0, 12.0],
        [30.0, 30.0, 12.0],
        [5.0, 5.0, 9.4],
        [15.0, 5.0, 9.4],
        [15.0, 13.0, 9.8],
        [5.0, 13.0, 9.8],
        [18.0, 6.0, 9.4],
        [21.0, 6.0, 9.4],
        [21.0, 9.0, 9.5],
        [18.0, 9.0, 9.5],
        [22.0, 18.0, 8.5],
    ];
    let regraded = [[2.0, 1.0, 8.9], [26.0, 1.0, 8.9], [14.0, 3.0, 9.2]];
    let level = |(number, (surface, [x, y, z])): (u32, (Surface, [f64; 3]))| GroundLevel {
        at: exact([x, y]),
        height: Length::from_metres(z),
        error: vec![(SourceId(100 + number), Length::from_metres(0.01))],
        surface,
        term: None,
        name: Name(format!("level-{number}")),
        feature: None,
        derived: false,
        span: Span::default(),
    };
    let existing = taken.map(|at| (Surface::Existing, at)).into_iter();
    (0..).zip(existing.chain(regraded.map(|at| (Surface::Proposed, at)))).map(level).collect()
}

/// The one thing whose place was measured, each corner by itself.
fn shed() -> Vec<Point> {
    let mut corners = ring(&[[18.0, 6.0], [21.0, 6.0], [21.0, 9.0], [18.0, 9.0]]);
    for (source, corner) in (0..).step_by(2).zip(&mut corners) {
        corner.error = ErrorTerms::Own { source: SourceId(source), sigma: Length::from_metres(SHED_SIGMA) };
    }
    corners
}

fn feature(id: &str, title: &str, kind: &str, status: Option<Status>) -> Feature {
    let length = |metres: f64| Written {
        value: Length::from_metres(metres),
        text: format!("{metres} m"),
        mark: Mark::Measured,
    };
    let heights = Attribute::Lengths([1.8, 1.5, 1.2].map(length).to_vec());
    let height = Attribute::Length(Written {
        value: Length::from_metres(6.5),
        text: "6.5 m".to_owned(),
        mark: Mark::Measured,
    });
    let attributes = match id {
        "house" => Some((Name("height".to_owned()), at(height))),
        "fence" => Some((Name("heights".to_owned()), at(heights))),
        _ => None,
    };
    Feature {
        id: at(Name(id.to_owned())),
        title: Some(title.to_owned()),
        kind: at(kind.to_owned()),
        status: status.map(at),
        lot: None,
        geometry: None,
        by: None,
        attributes: attributes.into_iter().collect(),
        span: Span::default(),
    }
}

fn lot() -> Lot {
    Lot {
        id: at(Name("lot".to_owned())),
        ring: Path { vertices: Vec::new(), span: Span::default() },
        sides: Vec::new(),
        by: None,
        stated_area: None,
        pointed_rear: None,
        span: Span::default(),
    }
}

fn lot_shape() -> ResolvedLot {
    let ring = ring(&[[0.0, 0.0], [30.0, 0.0], [30.0, 30.0], [0.0, 30.0]]);
    let roles = [Role::Front, Role::Side, Role::Rear, Role::Side];
    let names = ["sw-se", "se-ne", "ne-nw", "nw-sw"];
    let sides = (0..4)
        .map(|i| ResolvedSide {
            name: Name(names[i].to_owned()),
            path: vec![ring[i].clone(), ring[(i + 1) % 4].clone()],
            role: Some(roles[i]),
            assumed: false,
            street: None,
            street_width: None,
            inside: false,
            span: Span::default(),
        })
        .collect();
    ResolvedLot { ring, sides, ..ResolvedLot::default() }
}
