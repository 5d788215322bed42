//! Flow in swales and pipes by Manning: `Q = (k/n) A R^(2/3) S^(1/2)`.

use groundrule_units::{Area, Flow, Length, Ratio, Speed};

use crate::{positive, sensible};

/// Which `k` for feet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Constant {
    /// 1 in metres, which is 1.4859 in feet.
    Exact,
    /// 1.486, as most tables have it.
    Us1486,
    /// 1.49, as TR-55 prints it: 0.27 % more.
    Us149,
}

impl Constant {
    /// `k` in metres: the cube root of a foot takes it over.
    pub fn metric(self) -> f64 {
        match self {
            Self::Exact => 1.0,
            Self::Us1486 => 1.486 * libm::cbrt(0.3048),
            Self::Us149 => 1.49 * libm::cbrt(0.3048),
        }
    }
}

/// What water touches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// A bed of some width with sides that go out `side` for each unit they rise: a trapezoid, a triangle without a
    /// bed, a rectangle without a slope of its sides.
    Open {
        /// Width of the bed.
        bottom: Length,
        /// How far the sides go out for each unit they rise.
        side: f64,
    },
    /// A round pipe.
    Pipe {
        /// Its inside diameter.
        diameter: Length,
    },
}

/// How rough and how steep the bed is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bed {
    /// Manning's `n`.
    pub roughness: f64,
    /// Its slope along the flow.
    pub slope: Ratio,
    /// Which `k`.
    pub constant: Constant,
}

/// Area and wetted perimeter of water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wetted {
    /// Across the flow.
    pub area: Area,
    /// Of bed and banks under water.
    pub perimeter: Length,
}

impl Section {
    /// What water of this depth wets; none for a pipe that is not so deep.
    pub fn wetted(self, depth: Length) -> Option<Wetted> {
        let depth = positive(depth.metres())?;
        let (area, perimeter) = match self {
            Self::Open { bottom, side } => {
                let (bottom, side) = (sensible(bottom.metres())?, sensible(side)?);
                (bottom * depth + side * depth * depth, bottom + 2.0 * depth * libm::sqrt(1.0 + side * side))
            }
            Self::Pipe { diameter } => {
                let diameter = positive(diameter.metres())?;
                // The angle that the water's edge makes at the middle; a pipe full to rounding is full.
                let cosine = (1.0 - 2.0 * depth / diameter).max(-1.0);
                if depth > diameter * (1.0 + 1e-9) {
                    return None;
                }
                let angle = 2.0 * libm::acos(cosine);
                (diameter * diameter / 8.0 * (angle - libm::sin(angle)), diameter * angle / 2.0)
            }
        };
        Some(Wetted {
            area: Area::from_square_metres(positive(area)?),
            perimeter: Length::from_metres(positive(perimeter)?),
        })
    }
}

impl Bed {
    /// The speed of water that wets so much.
    pub fn speed(&self, wetted: Wetted) -> Option<Speed> {
        let radius = positive(wetted.area.square_metres())? / positive(wetted.perimeter.metres())?;
        let (roughness, slope) = (positive(self.roughness)?, positive(self.slope.fraction())?);
        // The root twice over, because libm has no power of two thirds that is exact at whole cubes.
        let radius = libm::cbrt(radius);
        let speed = self.constant.metric() / roughness * radius * radius * libm::sqrt(slope);
        Some(Speed::from_metres_per_second(sensible(speed)?))
    }

    /// The flow through a section filled to a depth.
    pub fn flow(&self, section: Section, depth: Length) -> Option<Flow> {
        let wetted = section.wetted(depth)?;
        let speed = self.speed(wetted)?;
        Some(Flow::from_cubic_metres_per_second(speed.metres_per_second() * wetted.area.square_metres()))
    }

    /// The depth at which an open section carries a flow, by halving; none where no depth under a kilometre does.
    ///
    /// A pipe carries more a little under its crown than full; asked for more than it carries full it has no depth here.
    pub fn normal_depth(&self, section: Section, flow: Flow) -> Option<Length> {
        let wanted = positive(flow.cubic_metres_per_second())?;
        let at =
            |depth: f64| self.flow(section, Length::from_metres(depth)).map(Flow::cubic_metres_per_second);
        let mut high = match section {
            Section::Open { .. } => 1000.0,
            Section::Pipe { diameter } => positive(diameter.metres())?,
        };
        if at(high)? < wanted {
            return None;
        }
        let mut low = 0.0;
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            match at(middle) {
                Some(flow) if flow >= wanted => high = middle,
                _ => low = middle,
            }
        }
        Some(Length::from_metres(high))
    }
}

/// From a kilometre to less than the last place of a depth of a millimetre.
const HALVINGS: usize = 80;
