//! The coordinate system a file says its numbers are in.

use groundrule_units::{Angle, Length};
use proj4rs::Proj;

use super::wkt::{self, Definition};
use super::{PlaneError, carry, proj};
use crate::{LinearUnit, LonLat};

/// The size and shape of the earth a system counts on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipsoid {
    /// Half its equatorial axis.
    pub equatorial_radius: Length,
    /// One over its flattening; zero for a sphere.
    pub inverse_flattening: f64,
}

impl Ellipsoid {
    /// The ellipsoid of WGS 84.
    pub const WGS84: Self =
        Self { equatorial_radius: Length::from_metres(6_378_137.0), inverse_flattening: 298.257_223_563 };
    /// The ellipsoid of NAD 83 and ETRS 89.
    pub const GRS80: Self =
        Self { equatorial_radius: Length::from_metres(6_378_137.0), inverse_flattening: 298.257_222_101 };

    pub(super) fn parameters(self) -> String {
        let a = self.equatorial_radius.metres();
        if self.inverse_flattening > 0.0 {
            format!("+a={a} +rf={}", self.inverse_flattening)
        } else {
            format!("+a={a} +b={a}")
        }
    }
}

#[derive(Clone, Debug)]
enum Grid {
    /// The numbers are degrees east of Greenwich and north of the equator.
    Degrees,
    /// The numbers are an easting and a northing, turned back by `grid` into longitude and latitude.
    Projected { grid: Box<Proj>, geographic: Box<Proj>, metres_per_unit: f64 },
}

/// A coordinate system: what a pair of numbers in a file means.
#[derive(Clone, Debug)]
pub struct System {
    name: String,
    ellipsoid: Ellipsoid,
    grid: Grid,
    web_mercator: bool,
}

/// What one of the well-known codes stands for.
enum Known {
    Degrees(&'static str, Ellipsoid),
    WebMercator,
    Utm { datum: &'static str, ellipsoid: Ellipsoid, zone: u32, south: bool },
}

fn known(code: u32) -> Option<Known> {
    // EPSG numbers the zones of a datum in a row, so the table is one line per datum.
    let utm = |datum, ellipsoid, zone, south| Known::Utm { datum, ellipsoid, zone, south };
    Some(match code {
        4326 | 4979 => Known::Degrees("WGS 84", Ellipsoid::WGS84),
        4269 => Known::Degrees("NAD83", Ellipsoid::GRS80),
        4258 => Known::Degrees("ETRS89", Ellipsoid::GRS80),
        3857 | 3785 | 900_913 | 102_100 => Known::WebMercator,
        32_601..=32_660 => utm("WGS 84", Ellipsoid::WGS84, code - 32_600, false),
        32_701..=32_760 => utm("WGS 84", Ellipsoid::WGS84, code - 32_700, true),
        26_901..=26_923 => utm("NAD83", Ellipsoid::GRS80, code - 26_900, false),
        25_828..=25_838 => utm("ETRS89", Ellipsoid::GRS80, code - 25_800, false),
        _ => return None,
    })
}

impl System {
    /// WGS 84 longitude and latitude in degrees, as GeoJSON has them.
    pub fn wgs84() -> Self {
        Self {
            name: "WGS 84".to_owned(),
            ellipsoid: Ellipsoid::WGS84,
            grid: Grid::Degrees,
            web_mercator: false,
        }
    }

    /// The system of a well-known EPSG code: geographic WGS 84, NAD 83 and ETRS 89, Web Mercator, and the
    /// UTM zones of the three. Nothing for any other; those come with their definition as text.
    pub fn from_epsg(code: u32) -> Option<Result<Self, PlaneError>> {
        Some(match known(code)? {
            Known::Degrees(name, ellipsoid) => {
                Ok(Self { name: name.to_owned(), ellipsoid, grid: Grid::Degrees, web_mercator: false })
            }
            Known::WebMercator => Self::web_mercator(),
            Known::Utm { datum, ellipsoid, zone, south } => Self::projected(
                format!("{datum} / UTM zone {zone}{}", if south { 'S' } else { 'N' }),
                ellipsoid,
                &format!("+proj=utm +zone={zone}{}", if south { " +south" } else { "" }),
                1.0,
            ),
        })
    }

    /// The system a definition in well-known text (OGC 01-009, "WKT 1") describes: geographic, transverse
    /// Mercator or Lambert conformal conic, in any linear unit, or Web Mercator.
    pub fn from_wkt(text: &str) -> Result<Self, PlaneError> {
        match wkt::definition(text)? {
            Definition::Geographic { name, ellipsoid } => {
                Ok(Self { name, ellipsoid, grid: Grid::Degrees, web_mercator: false })
            }
            Definition::WebMercator => Self::web_mercator(),
            Definition::Projected { name, ellipsoid, method, metres_per_unit } => {
                Self::projected(name, ellipsoid, &method, metres_per_unit)
            }
        }
    }

    /// Web Mercator: the sphere's formula applied to latitudes of the WGS 84 ellipsoid (EPSG method 1024).
    fn web_mercator() -> Result<Self, PlaneError> {
        let sphere = Ellipsoid { inverse_flattening: 0.0, ..Ellipsoid::WGS84 };
        let system =
            Self::projected("WGS 84 / Pseudo-Mercator".to_owned(), sphere, "+proj=merc +lon_0=0", 1.0)?;
        Ok(Self { ellipsoid: Ellipsoid::WGS84, web_mercator: true, ..system })
    }

    fn projected(
        name: String,
        ellipsoid: Ellipsoid,
        method: &str,
        metres_per_unit: f64,
    ) -> Result<Self, PlaneError> {
        let axes = ellipsoid.parameters();
        let grid = Box::new(proj(&format!("{method} {axes}"))?);
        let geographic = Box::new(proj(&format!("+proj=longlat {axes}"))?);
        let grid = Grid::Projected { grid, geographic, metres_per_unit };
        Ok(Self { name, ellipsoid, grid, web_mercator: false })
    }

    /// The same system with its numbers in another linear unit; a geographic system stays as it is.
    pub fn in_unit(mut self, unit: LinearUnit) -> Self {
        if let Grid::Projected { metres_per_unit, .. } = &mut self.grid {
            *metres_per_unit = unit.one().metres();
        }
        self
    }

    /// Its name, for people.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The ellipsoid it counts on.
    pub fn ellipsoid(&self) -> Ellipsoid {
        self.ellipsoid
    }

    /// True when the numbers are degrees of longitude and latitude.
    pub fn is_geographic(&self) -> bool {
        matches!(self.grid, Grid::Degrees)
    }

    /// True for Web Mercator, whose lengths are never measured.
    pub fn is_web_mercator(&self) -> bool {
        self.web_mercator
    }

    /// The longitude and latitude of a pair of numbers as the file holds them: easting or longitude first,
    /// each in the unit of the system. The datum is the system's own: no datum shift is made.
    pub fn lon_lat(&self, [x, y]: [f64; 2]) -> Result<LonLat, PlaneError> {
        match &self.grid {
            Grid::Degrees if x.is_finite() && y.abs() <= 90.0 => {
                Ok(LonLat { longitude: Angle::from_degrees(x), latitude: Angle::from_degrees(y) })
            }
            Grid::Degrees => Err(PlaneError::OutOfReach),
            Grid::Projected { grid, geographic, metres_per_unit } => {
                let (longitude, latitude) =
                    carry(grid, geographic, x * metres_per_unit, y * metres_per_unit)?;
                Ok(LonLat {
                    longitude: Angle::from_radians(longitude),
                    latitude: Angle::from_radians(latitude),
                })
            }
        }
    }
}
