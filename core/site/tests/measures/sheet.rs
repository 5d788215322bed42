//! A plan drawn in a few calls, for tests.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_plan::{
    At, Attribute, Feature, GroundFacts, KindTree, Lot, Name, Path, Plan, Remark, Role, Sheet as SheetFacts,
    SiteFacts, Source, Span, Status,
};
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::{
    ErrorTerm, ErrorTerms, GroundLevel, GroundLine, GroundLineKind, Layout, Point, Position, ResolvedLot,
    ResolvedSide, Shape, SourceId, Surface,
};
use groundrule_units::{Length, SheetUnit};

pub(crate) fn metres(value: f64) -> Length {
    Length::from_metres(value)
}

pub(crate) fn exact(x: f64, y: f64) -> Point {
    Point { at: Position { x: metres(x), y: metres(y) }, error: ErrorTerms::Exact }
}

/// A point whose error is a sum of sources: `(source, x, y)`.
pub(crate) fn shared(x: f64, y: f64, terms: &[(u32, f64, f64)]) -> Point {
    let term = |&(source, x, y): &(u32, f64, f64)| ErrorTerm {
        source: SourceId(source),
        x: metres(x),
        y: metres(y),
    };
    Point { error: ErrorTerms::Sum(terms.iter().map(term).collect()), ..exact(x, y) }
}

pub(crate) fn at<T>(value: T) -> At<T> {
    At { value, span: Span::default() }
}

/// A plan and its layout, built up shape by shape.
pub(crate) struct Sheet {
    pub(crate) plan: Plan,
    pub(crate) layout: Layout,
    next_source: u32,
}

impl Sheet {
    pub(crate) fn new() -> Self {
        let site = SiteFacts {
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
        };
        let plan = Plan {
            source: Source { name: "tern-hollow.toml".to_owned(), text: Arc::from("") },
            site,
            accuracy: BTreeMap::new(),
            points: Vec::new(),
            measurements: Vec::new(),
            lots: Vec::new(),
            features: Vec::new(),
            declared: BTreeMap::new(),
            sheet: SheetFacts::default(),
            ground: GroundFacts::default(),
            remarks: Vec::new(),
        };
        Self { plan, layout: Layout::default(), next_source: 0 }
    }

    /// A point with errors of its own; exact when `sigma` is zero.
    pub(crate) fn own(&mut self, x: f64, y: f64, sigma: f64) -> Point {
        let mut point = exact(x, y);
        if sigma > 0.0 {
            point.error = ErrorTerms::Own { source: SourceId(self.next_source), sigma: metres(sigma) };
            self.next_source += 2;
        }
        point
    }

    pub(crate) fn ring(&mut self, ring: &[[f64; 2]], sigma: f64) -> Vec<Point> {
        ring.iter().map(|[x, y]| self.own(*x, *y, sigma)).collect()
    }

    pub(crate) fn add(&mut self, id: &str, shape: Shape) -> &mut Feature {
        self.layout.shapes.push(shape);
        self.plan.features.push(Feature {
            id: at(Name(id.to_owned())),
            title: None,
            kind: at("structure".to_owned()),
            status: None,
            lot: None,
            geometry: None,
            by: None,
            attributes: BTreeMap::new(),
            span: Span::default(),
        });
        self.plan.features.last_mut().expect("one was pushed")
    }

    pub(crate) fn outline(&mut self, id: &str, ring: &[[f64; 2]], sigma: f64) -> &mut Feature {
        let ring = self.ring(ring, sigma);
        self.add(id, Shape::Outline { ring, holes: Vec::new() })
    }

    pub(crate) fn line(&mut self, id: &str, path: &[[f64; 2]], width: f64, sigma: f64) -> &mut Feature {
        let path = self.ring(path, sigma);
        self.add(id, Shape::Line { path, width: metres(width) })
    }

    pub(crate) fn spot(&mut self, id: &str, [x, y]: [f64; 2], sigma: f64) -> &mut Feature {
        let point = self.own(x, y, sigma);
        self.add(id, Shape::Spot(point))
    }

    pub(crate) fn disc(&mut self, id: &str, [x, y]: [f64; 2], radius: f64, sigma: f64) -> &mut Feature {
        let centre = self.own(x, y, sigma);
        self.add(id, Shape::Disc { centre, radius: metres(radius) })
    }

    /// A lot with a side for each edge, named `a-b`, `b-c` and so on.
    pub(crate) fn lot(
        &mut self,
        id: &str,
        ring: &[[f64; 2]],
        roles: &[Option<Role>],
        sigma: f64,
    ) -> &mut Lot {
        let ring = self.ring(ring, sigma);
        let letter = |i: usize| char::from(b'a' + u8::try_from(i % ring.len()).expect("few corners"));
        let sides = (0..ring.len())
            .map(|i| ResolvedSide {
                name: Name(format!("{}-{}", letter(i), letter(i + 1))),
                path: vec![ring[i].clone(), ring[(i + 1) % ring.len()].clone()],
                role: roles.get(i).copied().flatten(),
                assumed: false,
                street: (roles.get(i) == Some(&Some(Role::Front))).then(|| "Alder Row".to_owned()),
                street_width: None,
                inside: false,
                span: Span::default(),
            })
            .collect();
        self.layout.lots.push(ResolvedLot { ring, sides, ..ResolvedLot::default() });
        self.plan.lots.push(Lot {
            id: at(Name(id.to_owned())),
            ring: Path { vertices: Vec::new(), span: Span::default() },
            sides: Vec::new(),
            by: None,
            stated_area: None,
            pointed_rear: None,
            span: Span::default(),
        });
        self.plan.lots.last_mut().expect("one was pushed")
    }

    /// A level of the ground at a place, both with errors of their own where the sigmas are above zero.
    pub(crate) fn level(&mut self, surface: Surface, [x, y, z]: [f64; 3], (aside, high): (f64, f64)) -> u32 {
        let at = self.own(x, y, aside);
        let mut error = Vec::new();
        if high > 0.0 {
            error.push((SourceId(self.next_source), metres(high)));
            self.next_source += 1;
        }
        let levels = &mut self.layout.ground.levels;
        let number = u32::try_from(levels.len()).expect("few levels");
        levels.push(GroundLevel {
            at,
            height: metres(z),
            error,
            surface,
            term: None,
            name: Name(format!("level-{}", number + 1)),
            feature: None,
            derived: false,
            span: Span::default(),
        });
        number
    }

    /// Exact levels of the existing ground.
    pub(crate) fn levels(&mut self, levels: &[[f64; 3]]) {
        for level in levels {
            self.level(Surface::Existing, *level, (0.0, 0.0));
        }
    }

    /// A line along which the ground breaks, by the numbers of its levels; it belongs to a feature that is added.
    pub(crate) fn breakline(&mut self, id: &str, levels: &[u32]) {
        let feature = u32::try_from(self.plan.features.len()).expect("few features");
        self.add(id, Shape::Absent);
        let (kind, surface) = (GroundLineKind::Break, Surface::Existing);
        let levels = levels.to_vec();
        self.layout.ground.lines.push(GroundLine { levels, closed: false, kind, surface, feature });
    }

    pub(crate) fn build(&self) -> Built {
        let (site, remarks) = Site::build(&self.plan, &self.layout, KindTree::default());
        Built { site, remarks }
    }

    /// With the kinds that come with the program.
    pub(crate) fn build_of_kinds(&self) -> Built {
        let (site, remarks) = Site::build(&self.plan, &self.layout, KindTree::standard());
        Built { site, remarks }
    }
}

pub(crate) fn attribute(feature: &mut Feature, name: &str, value: Attribute) {
    feature.attributes.insert(Name(name.to_owned()), at(value));
}

pub(crate) fn standing(feature: &mut Feature, status: Status) {
    feature.status = Some(at(status));
}

/// A site, asked by name.
pub(crate) struct Built {
    pub(crate) site: Site,
    pub(crate) remarks: Vec<Remark>,
}

impl Built {
    pub(crate) fn id(&self, name: &str) -> FeatureId {
        self.site.find(name).unwrap_or_else(|| panic!("no feature {name}"))
    }

    pub(crate) fn distance(&self, a: &str, b: &str) -> Measured {
        self.site.distance(self.id(a), self.id(b))
    }

    pub(crate) fn clearance(&self, a: &str, b: &str) -> Measured {
        self.site.clearance(self.id(a), self.id(b))
    }

    pub(crate) fn yard(&self, a: &str, b: &str) -> Measured {
        self.site.yard(self.id(a), self.id(b))
    }
}

/// Within a tolerance, relative for numbers above one.
#[track_caller]
pub(crate) fn close(what: &str, shown: f64, expected: f64, tolerance: f64) {
    assert!(
        (shown - expected).abs() <= tolerance * expected.abs().max(1.0),
        "{what}: {shown} for {expected}, {:e} off",
        shown - expected
    );
}
