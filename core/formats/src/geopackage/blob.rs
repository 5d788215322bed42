//! A geometry column's bytes to shapes.

use geozero::error::{GeozeroError, Result};
use geozero::wkb::GpkgWkb;
use geozero::{GeomProcessor, GeozeroGeometry};

use crate::drawn::{Broken, Part, line, ring};
use crate::kernel::Xy;

/// What is wrong with a geometry and what to do.
type Told = (&'static str, &'static str);

/// The connected pieces of a geometry; at least one.
pub(super) fn parts(bytes: &[u8]) -> std::result::Result<Vec<Part>, Told> {
    let mut collector = Collector::default();
    match GpkgWkb(bytes).process_geom(&mut collector) {
        Ok(()) => {}
        Err(_) if collector.told.is_some() => {}
        Err(_) => return Err(("has a broken geometry", "copy the layer into a new file, or delete the row")),
    }
    if let Some(told) = collector.told {
        return Err(told);
    }
    if collector.parts.is_empty() {
        return Err(("has an empty shape", "give it a shape, or delete the row"));
    }
    Ok(collector.parts)
}

/// Collects what the decoder reports. It trusts no count the bytes state: places are kept as they come.
#[derive(Default)]
struct Collector {
    parts: Vec<Part>,
    /// The rings of the polygon being read.
    rings: Option<Vec<Vec<Xy>>>,
    places: Vec<Xy>,
    told: Option<Told>,
}

const CURVED: Told =
    ("is curved or a collection of mixed shapes", "turn it into plain outlines, lines or points first");

impl Collector {
    /// Ends the decoding; said before the decoder goes deeper, so that nesting costs no stack.
    fn stop(&mut self, told: Told) -> Result<()> {
        self.told = Some(told);
        Err(GeozeroError::GeometryFormat)
    }

    fn spots(&mut self) -> Result<()> {
        let places = std::mem::take(&mut self.places);
        if !places.iter().flatten().all(|number| number.is_finite()) {
            return self.stop(Broken::NotFinite.words());
        }
        self.parts.extend(places.into_iter().map(Part::Spot));
        Ok(())
    }
}

impl GeomProcessor for Collector {
    fn xy(&mut self, x: f64, y: f64, _: usize) -> Result<()> {
        self.places.push([x, y]);
        Ok(())
    }

    fn empty_point(&mut self, _: usize) -> Result<()> {
        Ok(())
    }

    fn point_end(&mut self, _: usize) -> Result<()> {
        self.spots()
    }

    fn multipoint_end(&mut self, _: usize) -> Result<()> {
        self.spots()
    }

    fn linestring_end(&mut self, _: bool, _: usize) -> Result<()> {
        let places = std::mem::take(&mut self.places);
        if let Some(rings) = &mut self.rings {
            rings.push(places);
            return Ok(());
        }
        if places.is_empty() {
            return Ok(());
        }
        match line(places) {
            Ok(path) => {
                self.parts.push(Part::Line(path));
                Ok(())
            }
            Err(broken) => self.stop(broken.words()),
        }
    }

    fn polygon_begin(&mut self, _: bool, _: usize, _: usize) -> Result<()> {
        self.rings = Some(Vec::new());
        Ok(())
    }

    fn polygon_end(&mut self, _: bool, _: usize) -> Result<()> {
        let mut rings = self.rings.take().unwrap_or_default().into_iter().map(ring);
        let Some(outer) = rings.next() else { return Ok(()) };
        match outer.and_then(|outer| Ok((outer, rings.collect::<std::result::Result<_, _>>()?))) {
            Ok((ring, holes)) => {
                self.parts.push(Part::Area { ring, holes });
                Ok(())
            }
            Err(broken) => self.stop(broken.words()),
        }
    }

    fn geometrycollection_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn circularstring_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn compoundcurve_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn curvepolygon_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn multicurve_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn multisurface_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn triangle_begin(&mut self, _: bool, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn polyhedralsurface_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }

    fn tin_begin(&mut self, _: usize, _: usize) -> Result<()> {
        self.stop(CURVED)
    }
}
