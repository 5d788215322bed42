//! Definitions of coordinate systems as well-known text, the form of OGC 01-009 that GeoPackage requires.

use groundrule_units::Length;

use super::PlaneError;
use super::system::Ellipsoid;

/// Definitions nest four or five deep; more is not a definition.
const DEEPEST: usize = 24;

/// What a definition says.
pub(super) enum Definition {
    Geographic { name: String, ellipsoid: Ellipsoid },
    WebMercator,
    Projected { name: String, ellipsoid: Ellipsoid, method: String, metres_per_unit: f64 },
}

/// Reads a definition.
pub(super) fn definition(text: &str) -> Result<Definition, PlaneError> {
    let mut reader = Reader { rest: text.trim() };
    let root = reader.node(0)?;
    match root.keyword.to_ascii_uppercase().as_str() {
        "GEOGCS" => {
            Ok(Definition::Geographic { name: root.name().to_owned(), ellipsoid: geographic(&root)?.0 })
        }
        "PROJCS" => projected(&root),
        other => Err(unusable(format!(
            "its definition is a `{other}`; a `GEOGCS` or a `PROJCS` (well-known text of OGC 01-009) is needed"
        ))),
    }
}

fn unusable(why: impl Into<String>) -> PlaneError {
    PlaneError::Unusable(why.into())
}

/// The ellipsoid, and how far the prime meridian lies east of Greenwich in degrees.
fn geographic(node: &Node<'_>) -> Result<(Ellipsoid, f64), PlaneError> {
    let spheroid = node
        .child("DATUM")
        .and_then(|datum| datum.child("SPHEROID"))
        .ok_or_else(|| unusable("its definition names no spheroid"))?;
    let (a, rf) = (spheroid.number(0), spheroid.number(1));
    let (Some(a), Some(rf)) = (a, rf) else {
        return Err(unusable("its spheroid has no size"));
    };
    // Anything else is not the earth, and would be measured without a word.
    if !(6.3e6..6.5e6).contains(&a) || !(rf == 0.0 || (150.0..400.0).contains(&rf)) {
        return Err(unusable(format!("its spheroid ({a} m, 1/{rf}) is not the earth's")));
    }
    let degree = node.child("UNIT").and_then(|unit| unit.number(0)).unwrap_or(1f64.to_radians());
    if (degree - 1f64.to_radians()).abs() > 1e-9 {
        return Err(unusable("its angles are not in degrees"));
    }
    let meridian = node.child("PRIMEM").and_then(|meridian| meridian.number(0)).unwrap_or(0.0);
    Ok((Ellipsoid { equatorial_radius: Length::from_metres(a), inverse_flattening: rf }, meridian))
}

fn projected(root: &Node<'_>) -> Result<Definition, PlaneError> {
    let name = root.name().to_owned();
    let method = root
        .child("PROJECTION")
        .map(|projection| projection.name().to_owned())
        .ok_or_else(|| unusable("its definition names no projection"))?;
    let lower = format!("{name} {method}").to_ascii_lowercase().replace([' ', '-'], "_");
    if ["pseudo_mercator", "web_mercator", "auxiliary_sphere", "popular_visualisation"]
        .iter()
        .any(|mark| lower.contains(mark))
    {
        return Ok(Definition::WebMercator);
    }
    let base = root.child("GEOGCS").ok_or_else(|| unusable("its definition has no `GEOGCS`"))?;
    let (ellipsoid, meridian) = geographic(base)?;
    let metres_per_unit = root
        .child("UNIT")
        .and_then(|unit| unit.number(0))
        .filter(|metres| (1e-4..1e5).contains(metres))
        .ok_or_else(|| unusable("its definition names no linear unit"))?;
    let value = |wanted: &str| {
        root.children()
            .filter(|child| child.keyword.eq_ignore_ascii_case("PARAMETER"))
            .find(|child| child.name().eq_ignore_ascii_case(wanted))
            .and_then(|child| child.number(0))
    };
    let degrees = |wanted: &str| value(wanted).unwrap_or(0.0);
    let scale = value("scale_factor").unwrap_or(1.0);
    let origin = format!(
        "+lat_0={} +lon_0={} +x_0={} +y_0={}",
        degrees("latitude_of_origin"),
        degrees("central_meridian") + meridian,
        degrees("false_easting") * metres_per_unit,
        degrees("false_northing") * metres_per_unit,
    );
    let parallels = (value("standard_parallel_1"), value("standard_parallel_2"));
    let method = match (method.to_ascii_lowercase().as_str(), parallels) {
        ("transverse_mercator" | "gauss_kruger", _) => format!("+proj=etmerc +k={scale} {origin}"),
        ("lambert_conformal_conic_2sp" | "lambert_conformal_conic", (Some(first), Some(second))) => {
            format!("+proj=lcc +lat_1={first} +lat_2={second} {origin}")
        }
        ("lambert_conformal_conic_1sp" | "lambert_conformal_conic", _) => {
            format!("+proj=lcc +lat_1={} +k_0={scale} {origin}", degrees("latitude_of_origin"))
        }
        _ => return Err(unusable(format!("its projection `{method}` is not one of those that can be read"))),
    };
    Ok(Definition::Projected { name, ellipsoid, method, metres_per_unit })
}

/// `KEYWORD["name", 1.5, CHILD[...]]`.
struct Node<'a> {
    keyword: &'a str,
    items: Vec<Item<'a>>,
}

enum Item<'a> {
    Text(&'a str),
    Number(f64),
    Node(Node<'a>),
    /// A bare word: the direction of an axis.
    Word,
}

impl<'a> Node<'a> {
    fn name(&self) -> &'a str {
        match self.items.first() {
            Some(Item::Text(text)) => text,
            _ => "",
        }
    }

    /// The number of this index among the numbers.
    fn number(&self, index: usize) -> Option<f64> {
        self.items
            .iter()
            .filter_map(|item| match item {
                Item::Number(number) => Some(*number),
                _ => None,
            })
            .nth(index)
    }

    fn children(&self) -> impl Iterator<Item = &Node<'a>> {
        self.items.iter().filter_map(|item| match item {
            Item::Node(node) => Some(node),
            _ => None,
        })
    }

    fn child(&self, keyword: &str) -> Option<&Node<'a>> {
        self.children().find(|node| node.keyword.eq_ignore_ascii_case(keyword))
    }
}

struct Reader<'a> {
    rest: &'a str,
}

impl<'a> Reader<'a> {
    fn broken(&self) -> PlaneError {
        let near: String = self.rest.chars().take(24).collect();
        unusable(format!("its definition breaks off or goes wrong near `{near}`"))
    }

    fn word(&mut self) -> &'a str {
        let end = self
            .rest
            .find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '_' | '.' | '+' | '-')))
            .unwrap_or(self.rest.len());
        let (word, rest) = self.rest.split_at(end);
        self.rest = rest.trim_start();
        word
    }

    fn eat(&mut self, wanted: [char; 2]) -> bool {
        match self.rest.strip_prefix(wanted) {
            Some(rest) => {
                self.rest = rest.trim_start();
                true
            }
            None => false,
        }
    }

    fn node(&mut self, depth: usize) -> Result<Node<'a>, PlaneError> {
        let keyword = self.word();
        if keyword.is_empty() || depth > DEEPEST || !self.eat(['[', '(']) {
            return Err(self.broken());
        }
        let mut items = Vec::new();
        loop {
            items.push(self.item(depth)?);
            if self.eat([']', ')']) {
                return Ok(Node { keyword, items });
            }
            if !self.eat([',', ',']) {
                return Err(self.broken());
            }
        }
    }

    fn item(&mut self, depth: usize) -> Result<Item<'a>, PlaneError> {
        if let Some(rest) = self.rest.strip_prefix('"') {
            let (text, rest) = rest.split_once('"').ok_or_else(|| self.broken())?;
            self.rest = rest.trim_start();
            return Ok(Item::Text(text));
        }
        let start = self.rest;
        let word = self.word();
        if self.rest.starts_with(['[', '(']) {
            self.rest = start;
            return self.node(depth + 1).map(Item::Node);
        }
        match word.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Item::Number(number)),
            _ if word.starts_with(|c: char| c.is_ascii_alphabetic()) => Ok(Item::Word),
            _ => Err(self.broken()),
        }
    }
}
