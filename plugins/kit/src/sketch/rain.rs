//! Methods of runoff on exact amounts.

use groundrule_hydrology::channel::{Bed, Constant, Section, Wetted};
use groundrule_hydrology::graphical::{self, Storm};
use groundrule_hydrology::rational::{self, Form};
use groundrule_hydrology::{concentration, curve_number, storage};
use groundrule_units::{Area, Dimension, Flow, Length, Quantity, Ratio, Speed, Time, Volume};

use super::{Exact, Sketch, stop};
use crate::{Channel, Runoff, Water};

/// An answer of these amounts, which is lacking where one of them is.
fn answer<Q: Into<Quantity>>(
    inputs: &[Exact],
    dimension: Dimension,
    work: impl FnOnce() -> Option<Q>,
) -> Option<Exact> {
    if inputs.iter().any(|input| input.lacks()) {
        return Some(Exact::missing(dimension));
    }
    work().map(Exact::new)
}

fn fits<T>(found: Option<T>, wanted: &str, given: Exact) -> T {
    found
        .unwrap_or_else(|| stop(&format!("{:?} was given where {wanted} belongs", given.value().dimension())))
}

fn length(of: Exact) -> Length {
    fits(of.value().length(), "a length", of)
}

fn area(of: Exact) -> Area {
    fits(of.value().area(), "an area", of)
}

fn ratio(of: Exact) -> Ratio {
    fits(of.value().ratio(), "a ratio", of)
}

fn number(of: Exact) -> f64 {
    ratio(of).fraction()
}

fn speed(of: Exact) -> Speed {
    fits(of.value().speed(), "a speed", of)
}

const fn powers(dimension: Dimension) -> (i32, i32) {
    match dimension {
        Dimension::Ratio | Dimension::Angle => (0, 0),
        Dimension::Length => (1, 0),
        Dimension::Area => (2, 0),
        Dimension::Volume => (3, 0),
        Dimension::Flow => (3, -1),
        Dimension::Speed => (1, -1),
        Dimension::Time => (0, 1),
    }
}

fn product(factors: &[(&Exact, i8)]) -> Option<Exact> {
    let (mut metres, mut seconds) = (0, 0);
    for (factor, power) in factors {
        let (m, s) = powers(factor.value().dimension());
        metres += m * i32::from(*power);
        seconds += s * i32::from(*power);
    }
    let dimension = match (metres, seconds) {
        (0, 0) => Dimension::Ratio,
        (1, 0) => Dimension::Length,
        (2, 0) => Dimension::Area,
        (3, 0) => Dimension::Volume,
        (3, -1) => Dimension::Flow,
        (1, -1) => Dimension::Speed,
        (0, 1) => Dimension::Time,
        other => stop(&format!("metres and seconds to the powers {other:?} have no name here")),
    };
    let inputs: Vec<Exact> = factors.iter().map(|(factor, _)| **factor).collect();
    answer(&inputs, dimension, || {
        let once = |(factor, power): &(&Exact, i8)| {
            let times = usize::from(power.unsigned_abs());
            let value: f64 = std::iter::repeat_n(factor.value().si(), times).product();
            if *power < 0 { 1.0 / value } else { value }
        };
        let value: f64 = factors.iter().map(once).product();
        value.is_finite().then(|| Quantity::new(dimension, value))
    })
}

impl Runoff for Sketch {
    fn product(&self, items: &[Vec<(&Exact, i8)>]) -> Vec<Option<Exact>> {
        items.iter().map(|factors| product(factors)).collect()
    }

    fn composite(&self, items: &[Vec<(&Exact, f64)>]) -> Vec<Option<Exact>> {
        let one = |parts: &Vec<(&Exact, f64)>| {
            let inputs: Vec<Exact> = parts.iter().map(|(of, _)| **of).collect();
            answer(&inputs, Dimension::Ratio, || {
                let parts: Vec<(Area, f64)> =
                    parts.iter().map(|(of, figure)| (area(**of), *figure)).collect();
                rational::composite(&parts).map(Ratio::from_fraction)
            })
        };
        items.iter().map(one).collect()
    }

    fn rounded(&self, items: &[&Exact]) -> Vec<Exact> {
        let one = |of: Exact| Exact::new(Ratio::from_fraction(curve_number::rounded(number(of))));
        items.iter().map(|of| if of.lacks() { **of } else { one(**of) }).collect()
    }

    fn rational_peak(&self, items: &[(&Exact, &Exact, &Exact)], form: Form) -> Vec<Option<Exact>> {
        let one = |&(of, coefficient, rain): &(&Exact, &Exact, &Exact)| {
            answer(&[*of, *coefficient, *rain], Dimension::Flow, || {
                rational::peak(area(*of), number(*coefficient), speed(*rain), form)
            })
        };
        items.iter().map(one).collect()
    }

    fn curve_number(&self, cover: &str, soil_group: &str) -> Option<f64> {
        curve_number::of_cover(cover, soil_group)
    }

    fn covers(&self) -> Vec<String> {
        curve_number::covers().map(str::to_owned).collect()
    }

    fn with_hard_ground(&self, items: &[(&Exact, &Exact, Option<&Exact>)]) -> Vec<Option<Exact>> {
        let one = |&(pervious, hard, unconnected): &(&Exact, &Exact, Option<&Exact>)| {
            let mut inputs = vec![*pervious, *hard];
            inputs.extend(unconnected);
            answer(&inputs, Dimension::Ratio, || {
                let unconnected = unconnected.map_or(0.0, |share| number(*share));
                curve_number::with_hard_ground(number(*pervious), number(*hard), unconnected)
                    .map(Ratio::from_fraction)
            })
        };
        items.iter().map(one).collect()
    }

    fn runoff_depth(&self, items: &[(&Exact, &Exact)]) -> Vec<Option<Exact>> {
        let one = |&(rain, of): &(&Exact, &Exact)| {
            answer(&[*rain, *of], Dimension::Length, || curve_number::runoff(length(*rain), number(*of)))
        };
        items.iter().map(one).collect()
    }

    fn graphical_peak(
        &self,
        items: &[(&Exact, &Exact, &Exact, &Exact)],
        storm: Storm,
        ponds: f64,
    ) -> Vec<Option<Exact>> {
        let one = |&(of, curve, rain, time): &(&Exact, &Exact, &Exact, &Exact)| {
            answer(&[*of, *curve, *rain, *time], Dimension::Flow, || {
                let time = fits(time.value().time(), "a time", *time);
                let ponds = Ratio::from_fraction(ponds);
                graphical::peak(area(*of), number(*curve), length(*rain), time, storm, ponds)
            })
        };
        items.iter().map(one).collect()
    }

    fn quality_volume(&self, items: &[(&Exact, &Exact, &Exact)]) -> Vec<Option<Exact>> {
        let one = |&(of, rain, hard): &(&Exact, &Exact, &Exact)| {
            answer::<Volume>(&[*of, *rain, *hard], Dimension::Volume, || {
                storage::quality_volume(area(*of), length(*rain), ratio(*hard))
            })
        };
        items.iter().map(one).collect()
    }

    fn sheet_time(&self, items: &[(&Exact, &Exact, &Exact, f64)]) -> Vec<Option<Exact>> {
        let one = |&(run, slope, rain, roughness): &(&Exact, &Exact, &Exact, f64)| {
            answer::<Time>(&[*run, *slope, *rain], Dimension::Time, || {
                concentration::sheet(length(*run), ratio(*slope), length(*rain), roughness)
            })
        };
        items.iter().map(one).collect()
    }

    fn shallow_speed(&self, items: &[(&Exact, bool)]) -> Vec<Option<Exact>> {
        let one = |&(slope, paved): &(&Exact, bool)| {
            answer(&[*slope], Dimension::Speed, || concentration::shallow_speed(ratio(*slope), paved))
        };
        items.iter().map(one).collect()
    }

    fn kirpich_time(&self, items: &[(&Exact, &Exact)]) -> Vec<Option<Exact>> {
        let one = |&(run, slope): &(&Exact, &Exact)| {
            answer(&[*run, *slope], Dimension::Time, || concentration::kirpich(length(*run), ratio(*slope)))
        };
        items.iter().map(one).collect()
    }

    fn wetted_speed(
        &self,
        items: &[(&Exact, &Exact, &Exact, f64)],
        constant: Constant,
    ) -> Vec<Option<Exact>> {
        let one = |&(across, perimeter, slope, roughness): &(&Exact, &Exact, &Exact, f64)| {
            answer(&[*across, *perimeter, *slope], Dimension::Speed, || {
                let wetted = Wetted { area: area(*across), perimeter: length(*perimeter) };
                Bed { roughness, slope: ratio(*slope), constant }.speed(wetted)
            })
        };
        items.iter().map(one).collect()
    }

    fn at_depth(&self, items: &[(Channel<'_, Exact>, &Exact)]) -> Vec<Option<Water<Exact>>> {
        items.iter().map(|(channel, depth)| water(channel, **depth, Given::Depth)).collect()
    }

    fn at_flow(&self, items: &[(Channel<'_, Exact>, &Exact)]) -> Vec<Option<Water<Exact>>> {
        items.iter().map(|(channel, flow)| water(channel, **flow, Given::Flow)).collect()
    }
}

#[derive(Clone, Copy)]
enum Given {
    Depth,
    Flow,
}

fn water(channel: &Channel<'_, Exact>, given: Exact, by: Given) -> Option<Water<Exact>> {
    let mut inputs = vec![*channel.slope, given];
    inputs.extend(channel.width);
    if inputs.iter().any(|input| input.lacks()) {
        let missing = Exact::missing;
        return Some(Water {
            depth: missing(Dimension::Length),
            flow: missing(Dimension::Flow),
            speed: missing(Dimension::Speed),
        });
    }
    let width = channel.width.map(|width| length(*width));
    let section = match (channel.side, width) {
        (Some(side), width) => Section::Open { bottom: width.unwrap_or(Length::ZERO), side },
        (None, width) => Section::Pipe { diameter: width? },
    };
    let bed = Bed { roughness: channel.roughness, slope: ratio(*channel.slope), constant: channel.constant };
    let depth = match by {
        Given::Depth => length(given),
        Given::Flow => bed.normal_depth(section, fits(given.value().flow(), "a flow", given))?,
    };
    let flow: Flow = bed.flow(section, depth)?;
    let speed = bed.speed(section.wetted(depth)?)?;
    Some(Water { depth: Exact::new(depth), flow: Exact::new(flow), speed: Exact::new(speed) })
}
