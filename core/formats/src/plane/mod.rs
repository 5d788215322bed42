//! Longitude and latitude to a plane at the lot, on which every length is a length on the ground.
//!
//! The plane is a transverse Mercator projection of scale 1 with its centre at the lot, on the ellipsoid the
//! source itself uses. Lengths, angles and areas of a lot are true to better than a micrometre there; the
//! scale grows with the square of the distance from the central meridian, 0.3 parts per million 5 km away.
//! Nothing is ever measured in the source's own projection: Web Mercator stretches by one over the cosine of
//! the latitude, and a transverse Mercator grid by its scale factor.

mod system;
mod wkt;

#[cfg(test)]
mod tests;

use groundrule_survey::Position;
use groundrule_units::{Angle, Length};
use proj4rs::Proj;
use proj4rs::transform::transform;

use crate::LonLat;

pub use system::{Ellipsoid, System};

/// Why a place could not be put on the plane.
#[derive(Clone, Debug, PartialEq)]
pub enum PlaneError {
    /// The definition of a coordinate system could not be used; says why.
    Unusable(String),
    /// The place has no image there: a latitude beyond a pole, or a number that is not finite.
    OutOfReach,
}

/// The plane at one place: x to the east, y to the north.
#[derive(Clone, Debug)]
pub struct Plane {
    centre: LonLat,
    local: Proj,
    geographic: Proj,
}

impl Plane {
    /// The plane whose origin is `centre`.
    pub fn at(centre: LonLat, ellipsoid: Ellipsoid) -> Result<Self, PlaneError> {
        let (longitude, latitude) = (centre.longitude.degrees(), centre.latitude.degrees());
        if !(longitude.is_finite() && latitude.abs() < 90.0) {
            return Err(PlaneError::OutOfReach);
        }
        let axes = ellipsoid.parameters();
        let local =
            proj(&format!("+proj=etmerc +lat_0={latitude} +lon_0={longitude} +k=1 +x_0=0 +y_0=0 {axes}"))?;
        let geographic = proj(&format!("+proj=longlat {axes}"))?;
        Ok(Self { centre, local, geographic })
    }

    /// Its origin.
    pub fn centre(&self) -> LonLat {
        self.centre
    }

    /// A place on the plane. Longitudes a whole turn apart are the same place.
    pub fn position(&self, at: LonLat) -> Result<Position, PlaneError> {
        let (x, y) = carry(&self.geographic, &self.local, at.longitude.radians(), at.latitude.radians())?;
        Ok(Position { x: Length::from_metres(x), y: Length::from_metres(y) })
    }

    /// The longitude, within 180 degrees of zero, and latitude of a place on the plane.
    pub fn lon_lat(&self, at: Position) -> Result<LonLat, PlaneError> {
        let (longitude, latitude) = carry(&self.local, &self.geographic, at.x.metres(), at.y.metres())?;
        Ok(LonLat { longitude: Angle::from_radians(longitude), latitude: Angle::from_radians(latitude) })
    }
}

fn proj(definition: &str) -> Result<Proj, PlaneError> {
    Proj::from_proj_string(definition).map_err(|error| PlaneError::Unusable(error.to_string()))
}

/// One pair of numbers from one projection to another, refusing what comes out as not a number.
fn carry(from: &Proj, to: &Proj, x: f64, y: f64) -> Result<(f64, f64), PlaneError> {
    if !(x.is_finite() && y.is_finite()) {
        return Err(PlaneError::OutOfReach);
    }
    let mut point = (x, y, 0.0);
    transform(from, to, &mut point).map_err(|_| PlaneError::OutOfReach)?;
    if point.0.is_finite() && point.1.is_finite() {
        Ok((point.0, point.1))
    } else {
        Err(PlaneError::OutOfReach)
    }
}
