//! The coordinates of a file to metres on one plane.

use groundrule_units::Angle;

use crate::drawn::{Drawn, Frame};
use crate::gather::Gather;
use crate::kernel::{Xy, bounds, length, minus};
use crate::plane::{Plane, PlaneError, System};
use crate::{LonLat, Options};

/// Farther apart than this is not one site, and the plane would stretch it.
const WIDEST: f64 = 100_000.0;
/// How far from where it is said to be a site may lie before the reader asks, in degrees.
const NEAR: f64 = 0.5;

/// Puts every place on the plane and gives the plane's centre, none for a flat drawing.
pub(super) fn to_plane(
    gather: &mut Gather<'_>,
    frame: &Frame,
    drawn: &mut [Drawn],
    options: &Options,
) -> Option<LonLat> {
    let centre = match frame {
        Frame::Flat(unit) => {
            let one = unit.one().metres();
            for at in places(drawn) {
                *at = [at[0] * one, at[1] * one];
            }
            None
        }
        Frame::Earth(system) => Some(earth(gather, system, drawn, options)?),
    };
    let all: Vec<Xy> = places(drawn).map(|at| *at).collect();
    let (low, high) = bounds(&all);
    let across = length(minus(high, low));
    if across > WIDEST {
        gather.add(
            "formats::too-wide",
            format!("the file reaches over {:.0} km; that is not one site", across / 1000.0),
            (groundrule_plan::Span::default(), "the whole file"),
            "cut out the area to be checked (up to 100 km across), and look for a stray coordinate such as 0, 0",
        );
    }
    centre
}

fn places(drawn: &mut [Drawn]) -> impl Iterator<Item = &mut Xy> {
    drawn.iter_mut().flat_map(|thing| thing.parts.iter_mut()).flat_map(crate::drawn::Part::places_mut)
}

fn earth(gather: &mut Gather<'_>, system: &System, drawn: &mut [Drawn], options: &Options) -> Option<LonLat> {
    check_range(gather, system, drawn);
    if !gather.is_empty() {
        return None;
    }
    // Degrees stand in the file's place until the centre is known; longitudes run on across 180.
    let mut first: Option<f64> = None;
    for at in places(drawn) {
        let found = system.lon_lat(*at).ok()?;
        let (longitude, latitude) = (found.longitude.degrees(), found.latitude.degrees());
        let start = *first.get_or_insert(longitude);
        *at = [start + turn(longitude - start), latitude];
    }
    let all: Vec<Xy> = places(drawn).map(|at| *at).collect();
    let (low, high) = bounds(&all);
    let middle = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
    check_near(gather, middle, options);
    let centre = degrees([turn(middle[0]), middle[1]]);
    if high[0] - low[0] > 5.0 || high[1] - low[1] > 5.0 {
        gather.add(
            "formats::too-wide",
            format!(
                "the file reaches over {:.1} degrees of longitude and {:.1} of latitude; that is not one site",
                high[0] - low[0],
                high[1] - low[1]
            ),
            (groundrule_plan::Span::default(), "the whole file"),
            "cut out the area to be checked (up to 100 km across), and look for a stray coordinate such as 0, 0",
        );
        return None;
    }
    let plane = match Plane::at(centre, system.ellipsoid()) {
        Ok(plane) => plane,
        Err(error) => {
            let why = match error {
                PlaneError::Unusable(why) => why,
                PlaneError::OutOfReach => "the site lies at a pole".to_owned(),
            };
            gather.add(
                "formats::no-plane",
                format!("no plane can be laid at the site: {why}"),
                (groundrule_plan::Span::default(), "the whole file"),
                "check the coordinate system the file names",
            );
            return None;
        }
    };
    for at in places(drawn) {
        let position = plane.position(degrees(*at)).ok()?;
        *at = [position.x.metres(), position.y.metres()];
    }
    Some(centre)
}

/// Every coordinate must mean a place; says for degrees whether the two were swapped.
fn check_range(gather: &mut Gather<'_>, system: &System, drawn: &[Drawn]) {
    let reachable =
        |[x, y]: Xy| system.lon_lat([x, y]).is_ok() && (!system.is_geographic() || x.abs() <= 360.0);
    for thing in drawn {
        let Some(&[x, y]) =
            thing.parts.iter().flat_map(crate::drawn::Part::places).find(|&&at| !reachable(at))
        else {
            continue;
        };
        let help = if !system.is_geographic() {
            "check the coordinate system the file names, or take the stray coordinate out"
        } else if x.abs() <= 90.0 && y.abs() <= 360.0 {
            "longitude comes first, then latitude; these two look swapped"
        } else {
            "give degrees of longitude (-180 to 180) and latitude (-90 to 90); metres or feet of a grid need a file that names the grid"
        };
        gather.add(
            "formats::out-of-range",
            format!("({}, {}) of `{}` is no place in {}", shown(x), shown(y), thing.id, system.name()),
            (thing.span, "this one"),
            help,
        );
    }
}

fn check_near(gather: &mut Gather<'_>, middle: Xy, options: &Options) {
    let Some(near) = options.near else { return };
    let wanted = [near.longitude.degrees(), near.latitude.degrees()];
    let off = |[x, y]: Xy| turn(x - wanted[0]).abs().max((y - wanted[1]).abs());
    if off(middle) <= NEAR {
        return;
    }
    let help = if off([middle[1], middle[0]]) <= NEAR {
        "longitude and latitude are swapped in the file: write longitude first"
    } else {
        "check the place that was given, and the coordinate system the file names"
    };
    gather.add(
        "formats::far-away",
        format!(
            "the file lies at longitude {:.4}, latitude {:.4}, not near {:.4}, {:.4} where the site was said to be",
            turn(middle[0]),
            middle[1],
            wanted[0],
            wanted[1]
        ),
        (groundrule_plan::Span::default(), "the whole file"),
        help,
    );
}

/// A coordinate as it stands in the file, shortened where it is absurd.
fn shown(number: f64) -> String {
    if number.abs() < 1e9 { number.to_string() } else { format!("{number:.3e}") }
}

/// The same turn between -180 and 180 degrees.
fn turn(degrees: f64) -> f64 {
    degrees - 360.0 * ((degrees + 180.0) / 360.0).floor()
}

fn degrees([x, y]: Xy) -> LonLat {
    LonLat { longitude: Angle::from_degrees(x), latitude: Angle::from_degrees(y) }
}
