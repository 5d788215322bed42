//! A small writer of SVG: escaped text, fixed figures, nothing else.

use std::fmt::Write as _;

use crate::safe;

/// A place on the paper in millimetres, x to the right and y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Paper {
    /// To the right.
    pub(crate) x: f64,
    /// Down.
    pub(crate) y: f64,
}

impl Paper {
    pub(crate) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(crate) fn plus(self, x: f64, y: f64) -> Self {
        Self::new(self.x + x, self.y + y)
    }

    pub(crate) fn middle(self, other: Self) -> Self {
        Self::new(f64::midpoint(self.x, other.x), f64::midpoint(self.y, other.y))
    }

    pub(crate) fn distance(self, other: Self) -> f64 {
        libm::hypot(other.x - self.x, other.y - self.y)
    }

    /// The point so far from here towards another, as a share of the way.
    pub(crate) fn towards(self, other: Self, share: f64) -> Self {
        Self::new(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)
    }
}

/// SVG being written.
#[derive(Default)]
pub(crate) struct Svg {
    text: String,
}

impl Svg {
    /// Opens an element that holds others; attributes are written as given, already escaped.
    pub(crate) fn open(&mut self, name: &str, attributes: &str) {
        let space = if attributes.is_empty() { "" } else { " " };
        let _ = writeln!(self.text, "<{name}{space}{attributes}>");
    }

    /// Closes the element.
    pub(crate) fn close(&mut self, name: &str) {
        let _ = writeln!(self.text, "</{name}>");
    }

    /// A line through places.
    pub(crate) fn polyline(&mut self, class: &str, places: &[Paper]) {
        let d = path(&[places], false);
        let _ = writeln!(self.text, "<path class=\"{class}\" d=\"{d}\"/>");
    }

    /// A filled outline with holes.
    pub(crate) fn polygon(&mut self, class: &str, rings: &[&[Paper]]) {
        let d = path(rings, true);
        let _ = writeln!(self.text, "<path class=\"{class}\" d=\"{d}\"/>");
    }

    /// A straight line.
    pub(crate) fn line(&mut self, class: &str, from: Paper, to: Paper) {
        self.polyline(class, &[from, to]);
    }

    /// A circle.
    pub(crate) fn circle(&mut self, class: &str, centre: Paper, radius: f64) {
        let (x, y, r) = (figure(centre.x), figure(centre.y), figure(radius));
        let _ = writeln!(self.text, "<circle class=\"{class}\" cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>");
    }

    /// A rectangle.
    pub(crate) fn rect(&mut self, class: &str, corner: Paper, width: f64, height: f64) {
        let (x, y, w, h) = (figure(corner.x), figure(corner.y), figure(width), figure(height));
        let _ =
            writeln!(self.text, "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"/>");
    }

    /// Text with its middle at a place, turned so many degrees clockwise.
    pub(crate) fn text(&mut self, class: &str, at: Paper, turn: f64, text: &str) {
        let (x, y) = (figure(at.x), figure(at.y));
        let turned = if turn == 0.0 {
            String::new()
        } else {
            format!(" transform=\"rotate({} {x} {y})\"", figure(turn))
        };
        let _ = writeln!(
            self.text,
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\"{turned}>{}</text>",
            escape(text)
        );
    }

    /// What is already SVG.
    pub(crate) fn raw(&mut self, svg: &str) {
        self.text.push_str(svg);
    }

    /// The whole text.
    pub(crate) fn finish(self) -> String {
        self.text
    }
}

fn path(rings: &[&[Paper]], closed: bool) -> String {
    let mut d = String::new();
    for ring in rings {
        let mut last = String::new();
        for (i, place) in ring.iter().enumerate() {
            let step = format!("{} {}", figure(place.x), figure(place.y));
            // Chords of curves are often shorter than a hundredth of a millimetre on paper.
            if step != last {
                let _ = write!(d, "{}{step}", if i == 0 { "M" } else { "L" });
                last = step;
            }
        }
        if closed {
            d.push('Z');
        }
    }
    d
}

/// A number with at most two decimals, the same on every machine.
pub(crate) fn figure(value: f64) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// Text safe inside an element or an attribute: markup escaped, what steers taken out.
pub(crate) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in safe::plain(text).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            c => escaped.push(c),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short() {
        let check = |value: f64, expected: &str| assert_eq!(figure(value), expected);
        check(1.0, "1");
        check(-0.001, "0");
        check(2.505, "2.5");
        check(-3.25, "-3.25");
    }

    #[test]
    fn markup_is_escaped() {
        assert_eq!(escape("<script>\u{1b}\"&'"), "&lt;script&gt; &quot;&amp;&#39;");
    }
}
