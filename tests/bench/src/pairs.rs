//! Rotated rectangles strewn over a square: all pairs of them no more than a metre apart.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_plan::{At, Feature, GroundFacts, KindTree, Name, Plan, Sheet, SiteFacts, Source, Span};
use groundrule_site::{FeatureId, Site};
use groundrule_survey::{ErrorTerms, Layout, Point, Position, Shape, SourceId};
use groundrule_units::{Length, SheetUnit};

/// How far apart a pair may be to count.
pub const REACH: Length = Length::from_metres(1.0);

/// Rectangles of 1 to 5 by 1 to 4 metres, turned any way, their first corners strewn evenly over a square of
/// 36 square metres for each. Corners in metres, anticlockwise.
///
/// The numbers come from the splitmix64 generator (Steele, Lea and Flood 2014), seeded with `count`. Turning
/// uses the rational circle, so that any program that follows these lines gets the same bits without sharing
/// a sine: for each rectangle it draws x, y, width, depth, then `t` for the cosine `(1 - t^2) / (1 + t^2)` and
/// the sine `2 t / (1 + t^2)`, each drawn as the top 53 bits over 2^53.
pub fn rectangles(count: u32) -> Vec<[[f64; 2]; 4]> {
    let mut state = u64::from(count);
    let mut draw = || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / 9_007_199_254_740_992.0
    };
    let side = 6.0 * f64::from(count).sqrt();
    (0..count)
        .map(|_| {
            let (x, y) = (side * draw(), side * draw());
            let (width, depth) = (1.0 + 4.0 * draw(), 1.0 + 3.0 * draw());
            let t = 2.0 * draw() - 1.0;
            let (cos, sin) = ((1.0 - t * t) / (1.0 + t * t), 2.0 * t / (1.0 + t * t));
            let corner = |along: f64, up: f64| [x + (along * cos - up * sin), y + (along * sin + up * cos)];
            [corner(0.0, 0.0), corner(width, 0.0), corner(width, depth), corner(0.0, depth)]
        })
        .collect()
}

/// A site of these rectangles, each corner read by itself to five centimetres.
pub fn site(rectangles: &[[[f64; 2]; 4]]) -> Site {
    let mut sources = (0_u32..).step_by(2);
    let mut layout = Layout::default();
    let mut features = Vec::new();
    for (i, ring) in rectangles.iter().enumerate() {
        let mut point = |[x, y]: [f64; 2]| Point {
            at: Position { x: Length::from_metres(x), y: Length::from_metres(y) },
            error: sources.next().map_or(ErrorTerms::Exact, |first| ErrorTerms::Own {
                source: SourceId(first),
                sigma: Length::from_metres(0.05),
            }),
        };
        let ring = ring.iter().map(|corner| point(*corner)).collect();
        layout.shapes.push(Shape::Outline { ring, holes: Vec::new() });
        features.push(feature(format!("shed-{i}")));
    }
    Site::build(&plan(features), &layout, KindTree::default()).0
}

/// Every two features of a site no farther apart than [`REACH`], the earlier first.
pub fn near_pairs(site: &Site) -> Vec<(FeatureId, FeatureId)> {
    let all: Vec<FeatureId> = site.features().map(|(id, _)| id).collect();
    let mut pairs = site.near(&all, &all, REACH);
    pairs.retain(|(a, b)| a < b);
    pairs
}

fn feature(id: String) -> Feature {
    let span = Span::default();
    Feature {
        id: At { value: Name(id), span },
        title: None,
        kind: At { value: "shed".to_owned(), span },
        status: None,
        lot: None,
        geometry: None,
        by: None,
        attributes: BTreeMap::new(),
        span,
    }
}

fn plan(features: Vec<Feature>) -> Plan {
    Plan {
        source: Source { name: "strewn.toml".to_owned(), text: Arc::from("") },
        site: SiteFacts {
            name: "Strewn".to_owned(),
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
        lots: Vec::new(),
        features,
        declared: BTreeMap::new(),
        sheet: Sheet::default(),
        ground: GroundFacts::default(),
        remarks: Vec::new(),
    }
}
