//! Water in a swale or a pipe.

use groundrule_hydrology::channel::{Bed, Constant, Section, Wetted};
use groundrule_units::{Area, Dimension, Flow, Length, Ratio, Speed};

use crate::Measured;

/// A swale or a pipe. One without a `side` is a pipe, whose `width` is its inside diameter.
#[derive(Clone, Copy, Debug)]
pub struct Channel<'a> {
    /// Width of the bed, or inside diameter; none is a triangle.
    pub width: Option<&'a Measured>,
    /// How far the sides go out for each unit they rise; none is a pipe.
    pub side: Option<f64>,
    /// Its slope along the flow.
    pub slope: &'a Measured,
    /// Manning's `n`.
    pub roughness: f64,
    /// Which `k`.
    pub constant: Constant,
}

/// What runs in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stream {
    /// Depth.
    pub depth: Measured,
    /// Flow.
    pub flow: Measured,
    /// Mean speed.
    pub speed: Measured,
}

impl<'a> Channel<'a> {
    /// The amounts it rests on, with one more last, and what to make of their numbers.
    fn inputs(&self, last: &'a Measured) -> Vec<&'a Measured> {
        let mut inputs = vec![self.slope];
        inputs.extend(self.width);
        inputs.push(last);
        inputs
    }

    /// Section and bed from the numbers of [`Channel::inputs`], and the last of them.
    fn read(&self, at: &[f64]) -> Option<(Section, Bed, f64)> {
        let (slope, width, last) = match at {
            [slope, last] => (*slope, None, *last),
            [slope, width, last] => (*slope, Some(Length::from_metres(*width)), *last),
            _ => return None,
        };
        let section = match (self.side, width) {
            (Some(side), width) => Section::Open { bottom: width.unwrap_or(Length::ZERO), side },
            (None, Some(diameter)) => Section::Pipe { diameter },
            (None, None) => return None,
        };
        let slope = Ratio::from_fraction(slope);
        Some((section, Bed { roughness: self.roughness, slope, constant: self.constant }, last))
    }
}

/// The speed of water that wets so much, by its area across the flow, its wetted perimeter and its slope.
pub fn wetted_speed(
    [area, perimeter, slope]: [&Measured; 3],
    roughness: f64,
    constant: Constant,
) -> Option<Measured> {
    Measured::through(&[area, perimeter, slope], Dimension::Speed, |at| match at {
        [area, perimeter, slope] => {
            let wetted =
                Wetted { area: Area::from_square_metres(*area), perimeter: Length::from_metres(*perimeter) };
            let bed = Bed { roughness, slope: Ratio::from_fraction(*slope), constant };
            bed.speed(wetted).map(Speed::metres_per_second)
        }
        _ => None,
    })
}

/// What runs when the water stands so deep.
pub fn stream(channel: &Channel<'_>, depth: &Measured) -> Option<Stream> {
    let inputs = channel.inputs(depth);
    let speed = Measured::through(&inputs, Dimension::Speed, |at| {
        let (section, bed, depth) = channel.read(at)?;
        bed.speed(section.wetted(Length::from_metres(depth))?).map(Speed::metres_per_second)
    })?;
    let flow = Measured::through(&inputs, Dimension::Flow, |at| {
        let (section, bed, depth) = channel.read(at)?;
        bed.flow(section, Length::from_metres(depth)).map(Flow::cubic_metres_per_second)
    })?;
    Some(Stream { depth: depth.clone(), flow, speed })
}

/// How deep a flow stands, and how fast it runs.
pub fn normal(channel: &Channel<'_>, flow: &Measured) -> Option<Stream> {
    let inputs = channel.inputs(flow);
    let depth_of = |at: &[f64]| {
        let (section, bed, flow) = channel.read(at)?;
        let depth = bed.normal_depth(section, Flow::from_cubic_metres_per_second(flow))?;
        Some((section, bed, depth))
    };
    let depth = Measured::through(&inputs, Dimension::Length, |at| Some(depth_of(at)?.2.metres()))?;
    let speed = Measured::through(&inputs, Dimension::Speed, |at| {
        let (section, bed, depth) = depth_of(at)?;
        bed.speed(section.wetted(depth)?).map(Speed::metres_per_second)
    })?;
    Some(Stream { depth, flow: flow.clone(), speed })
}

#[cfg(test)]
mod tests {
    use groundrule_survey::SourceId;
    use groundrule_units::{Length, Ratio};
    use smallvec::smallvec;

    use super::{Channel, Constant, normal, stream};
    use crate::Measured;

    /// Water found from its depth has that depth again when it is found from its flow, and is as well known.
    #[test]
    fn depth_and_flow_go_both_ways() {
        let width = Measured::exact(Length::from_feet(2.0));
        let slope = Measured::exact(Ratio::from_percent(2.0));
        let depth = Measured::new(Length::from_metres(0.14).into(), smallvec![(SourceId(3), 0.005)]);
        let swale = Channel {
            width: Some(&width),
            side: Some(3.0),
            slope: &slope,
            roughness: 0.035,
            constant: Constant::Us1486,
        };
        let there = stream(&swale, &depth).expect("water");
        let back = normal(&swale, &there.flow).expect("water");
        assert!((back.depth.value().si() - 0.14).abs() < 1e-12);
        assert!((back.depth.spread().si() - 0.005).abs() < 1e-7, "{}", back.depth.spread().si());
        assert!((back.speed.value().si() - there.speed.value().si()).abs() < 1e-12);
        let pipe = Channel { side: None, ..swale };
        assert!(stream(&pipe, &depth).is_some());
        assert!(stream(&Channel { width: None, ..pipe }, &depth).is_none());
    }
}
