//! A neighbourhood as a map would hold it: blocks of lots with houses and sheds between streets, as GeoJSON.
//!
//! Real footprints tiled to the same sizes are measured by `neighbourhood.py`; this is the invented stand-in that
//! needs no download.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::Arc;

use groundrule_formats::{Layers, Options as Reading, Use, geojson};
use groundrule_packs::Pack;
use groundrule_plan::{KindTree, Plan, Source};
use groundrule_review::{CheckRunner, Inputs, Level, Options, Review, review};
use groundrule_sandbox::Module;
use groundrule_site::Site;
use groundrule_survey::{Layout, resolve};
use groundrule_units::Style;

/// Lots side by side along a block; every block has two rows, back to back.
const ROW: usize = 12;
/// A lot is so wide, and so deep, in metres.
const LOT: [f64; 2] = [20.0, 40.0];
/// From lot line to lot line across a street, in metres.
const STREET: f64 = 16.0;
/// Metres to degrees near 45 degrees north: north, and east.
const DEGREES: [f64; 2] = [1.0 / 78_850.0, 1.0 / 111_130.0];
/// Where it lies: nowhere in particular.
const ORIGIN: [f64; 2] = [-93.5, 45.0];

/// The rules asked of it: those of which `neighbourhood.py` measures the same.
pub const PACK: &str = include_str!("../neighbourhood.toml");

/// A neighbourhood read and resolved.
pub struct Town {
    /// The plan its map makes.
    pub plan: Plan,
    /// Its places.
    pub layout: Layout,
    /// Its site.
    pub site: Arc<Site>,
}

impl Town {
    /// Reads a map.
    ///
    /// # Errors
    /// The faults of the map, in words; [`map`] gives none.
    pub fn read(map: &Source) -> Result<Self, String> {
        let layers = [("plots", Use::Lots), ("buildings", Use::Buildings), ("streets", Use::Streets)];
        let layers: BTreeMap<String, Use> =
            layers.into_iter().map(|(name, role)| (name.to_owned(), role)).collect();
        let plan = geojson::read(map, &Reading::new("Neighbourhood", Layers::Named(layers)))
            .map_err(|faults| format!("{faults:?}"))?;
        let (layout, _) = resolve(&plan).map_err(|faults| format!("{faults:?}"))?;
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        Ok(Self { plan, layout, site: Arc::new(site) })
    }

    /// Reviews it by a pack whose checks are all of one module.
    pub fn review(&self, pack: &Pack, module: &Module) -> Review {
        let runners: [&dyn CheckRunner; 1] = [module];
        let inputs = Inputs {
            plan: &self.plan,
            layout: &self.layout,
            site: &self.site,
            remarks: Vec::new(),
            packs: std::slice::from_ref(pack),
            modules: &runners,
            stopped: Vec::new(),
            deviations: &[],
        };
        review(inputs, &Options { level: Level::STANDARD, style: Style::DecimalFeet, date: None })
    }
}

/// The map of a neighbourhood with at least so many lots: whole blocks, laid in a square, a street on every side.
pub fn map(lots: usize) -> Source {
    Source { name: "neighbourhood.geojson".to_owned(), text: text(lots).into() }
}

fn text(lots: usize) -> String {
    let blocks = lots.div_ceil(2 * ROW);
    // Blocks are three times as long as deep, so a third as many side by side as one above the other.
    let across = (1..=blocks).find(|across| 3 * across * across >= blocks).unwrap_or(1);
    let mut map = Map { text: String::from("{\"type\":\"FeatureCollection\",\"features\":["), count: 0 };
    for block in 0..blocks {
        let last = [block + 1 == blocks || block % across + 1 == across, block + across >= blocks];
        let [wide, deep] = [LOT[0] * ROW as f64 + STREET, 2.0 * LOT[1] + STREET];
        let corner = [wide * (block % across) as f64, deep * (block / across) as f64];
        map.block(corner, [wide, deep], last);
    }
    map.text.push_str("]}");
    map.text
}

struct Map {
    text: String,
    count: usize,
}

impl Map {
    /// A block with the street along its foot and the one on its left, and those beyond it where it is the last.
    fn block(&mut self, [x, y]: [f64; 2], [wide, deep]: [f64; 2], [last_across, last_up]: [bool; 2]) {
        self.add("streets", &[[x, y], [x + wide, y]]);
        self.add("streets", &[[x, y], [x, y + deep]]);
        if last_across {
            self.add("streets", &[[x + wide, y], [x + wide, y + deep]]);
        }
        if last_up {
            self.add("streets", &[[x, y + deep], [x + wide, y + deep]]);
        }
        let half = STREET / 2.0;
        for row in 0..2 {
            for column in 0..ROW {
                let left = x + half + LOT[0] * column as f64;
                // Lots of the upper row look up, so they are those of the lower row turned over.
                let (front, sense) = if row == 0 { (y + half, 1.0) } else { (y + half + 2.0 * LOT[1], -1.0) };
                let mut rectangle = |layer, [from, off]: [f64; 2], [width, depth]: [f64; 2]| {
                    let (left, right) = (left + from, left + from + width);
                    let (near, far) = (front + sense * off, front + sense * (off + depth));
                    let ring = [[left, near], [right, near], [right, far], [left, far], [left, near]];
                    self.add(layer, &ring);
                };
                rectangle("plots", [0.0, 0.0], LOT);
                // Set back by 5 to 9 m and from the left by 1 to 4 m, in steps that do not repeat soon.
                let (back, aside) = (5.0 + (column % 5) as f64, 1.0 + (column % 7) as f64 / 2.0);
                rectangle("buildings", [aside, back], [11.0 + (column % 3) as f64, 9.0]);
                if column % 3 != 1 {
                    rectangle("buildings", [1.0 + (column % 4) as f64, back + 11.5], [4.0, 3.0]);
                }
            }
        }
    }

    fn add(&mut self, layer: &str, places: &[[f64; 2]]) {
        if self.count > 0 {
            self.text.push(',');
        }
        self.count += 1;
        let (kind, open, close) =
            if layer == "streets" { ("LineString", "", "") } else { ("Polygon", "[", "]") };
        // Writing to a text cannot fail.
        let _ = write!(
            self.text,
            "{{\"type\":\"Feature\",\"id\":{},\"properties\":{{\"layer\":\"{layer}\"}},\
             \"geometry\":{{\"type\":\"{kind}\",\"coordinates\":{open}[",
            self.count,
        );
        for (index, [x, y]) in places.iter().enumerate() {
            let comma = if index > 0 { "," } else { "" };
            let (east, north) = (ORIGIN[0] + x * DEGREES[0], ORIGIN[1] + y * DEGREES[1]);
            let _ = write!(self.text, "{comma}[{east:.9},{north:.9}]");
        }
        let _ = write!(self.text, "]{close}}}}}");
    }
}
