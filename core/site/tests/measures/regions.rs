//! Places constructed from what is drawn. Figures in feet; T57 to T59 are worked cases of the rule catalogue.

use groundrule_plan::Role;
use groundrule_site::region::Draft;
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_units::Length;

use crate::sheet::{Built, Sheet, close};

const FOOT: f64 = 0.3048;

fn feet(value: f64) -> Length {
    Length::from_feet(value)
}

fn in_feet(places: &[[f64; 2]]) -> Vec<[f64; 2]> {
    places.iter().map(|[x, y]| [x * FOOT, y * FOOT]).collect()
}

/// A corner lot of 80 by 100 with streets south and west, turned by an angle about its south-west corner.
fn corner_lot(turn: f64, sigma: f64) -> Sheet {
    let mut sheet = Sheet::new();
    let ring: Vec<[f64; 2]> =
        [[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]].map(|at| turned(at, turn)).to_vec();
    let roles = [Some(Role::Front), None, None, Some(Role::StreetSide)];
    sheet.lot("lot", &in_feet(&ring), &roles, sigma * FOOT);
    sheet
}

fn turned([x, y]: [f64; 2], turn: f64) -> [f64; 2] {
    let (sin, cos) = libm::sincos(turn);
    [x * cos - y * sin, x * sin + y * cos]
}

fn square_feet(amount: &Measured) -> f64 {
    amount.value().si() / (FOOT * FOOT)
}

fn make(built: &mut Built, draft: impl Fn(&Site) -> Option<Draft>) -> Option<FeatureId> {
    let draft = draft(&built.site)?;
    built.site.region(&draft)
}

/// A triangle at the corner of the two streets, with these legs along the west and the south line.
fn corner(built: &mut Built, legs: (f64, f64)) -> Option<FeatureId> {
    let pair = (built.id("lot.d-a"), built.id("lot.a-b"));
    make(built, |site| site.corner_sight(pair, (feet(legs.0), feet(legs.1)), false))
}

#[test]
fn a_corner_triangle_is_the_triangle_of_its_legs() {
    for turn in [0.0, 0.3, 1.1, 2.9, 4.0] {
        let check = |legs: (f64, f64), area: f64| {
            let mut built = corner_lot(turn, 0.0).build();
            let region = corner(&mut built, legs).expect("a triangle");
            close(&format!("{legs:?} turned {turn}"), square_feet(&built.site.area(region)), area, 1e-9);
            let feature = built.site.feature(region).expect("it is there");
            assert_eq!(feature.kind, "region");
            assert_eq!(feature.lot, Some(built.id("lot")));
        };
        // T57.
        check((25.0, 25.0), 312.5);
        check((10.0, 40.0), 200.0);
        check((80.0, 80.0), 3200.0);
        // Longer than the lot is wide: cut by its east line.
        check((100.0, 100.0), 4800.0);
    }
}
