//! Figures of a chain.

use groundrule_plan::Chain;
use groundrule_units::Length;

use super::Collector;
use crate::field::accuracy::Class;
use crate::field::figure::{Line, Node, Relation};
use crate::layout::Reading;

/// A named mark of a chain, and how far from its first mark the written figures put it.
struct Mark {
    node: Node,
    /// The index of the piece that ends here.
    piece: u32,
    station: Length,
    /// The half width of the length from the named mark before.
    half_width: f64,
}

impl Collector<'_> {
    pub(super) fn chain(&mut self, chain: &Chain, class: Class<'_>) {
        let start = self.node(&chain.start);
        let marks = self.marks(chain, class);
        let Some(end) = marks.last().map(|mark| mark.node) else { return };
        let line = match &chain.along {
            Some(wall) => self.line(wall),
            None => (start, end),
        };
        if !chain.abreast {
            for mark in std::iter::once(start).chain(marks.iter().map(|mark| mark.node)) {
                if mark != line.0 && mark != line.1 {
                    self.push(Reading::Offset, Relation::Offset(line, mark), 0.0, 0.0, None);
                }
            }
        }
        if class.of_positions() {
            self.positions(start, &marks, line, class);
        } else if chain.running {
            for mark in &marks {
                let half_width = class.of_length(mark.station);
                self.piece(Reading::Figure(mark.piece), line, (start, mark.node), mark.station, half_width);
            }
        } else {
            let mut before = (start, Length::ZERO);
            for mark in &marks {
                let (ends, length) = ((before.0, mark.node), mark.station - before.1);
                self.piece(Reading::Figure(mark.piece), line, ends, length, mark.half_width);
                before = (mark.node, mark.station);
            }
        }
        self.overall(chain, line, (start, end), class);
        if let Some(mark) = marks.last()
            && line == (start, end)
        {
            self.hint(Relation::Distance(start, end), mark.station);
        }
    }

    /// The named marks after the first. A mark without a name joins the pieces on both its sides.
    fn marks(&mut self, chain: &Chain, class: Class<'_>) -> Vec<Mark> {
        let (mut marks, mut station, mut square) = (Vec::new(), Length::ZERO, 0.0);
        for (piece, i) in chain.pieces.iter().zip(0..) {
            let length = piece.length.value.value;
            station = if chain.running { length } else { station + length };
            let half_width = class.of_length(length);
            square += half_width * half_width;
            if let Some(to) = &piece.to {
                let node = self.node(to);
                marks.push(Mark { node, piece: i, station, half_width: libm::sqrt(square) });
                square = 0.0;
            }
        }
        marks
    }

    /// Marks read off a picture: each position errs by itself, so neighbouring pieces err together.
    fn positions(&mut self, start: Node, marks: &[Mark], line: Line, class: Class<'_>) {
        let half_width = class.of_position();
        let zero = self.at;
        self.push(Reading::Mark(0), Relation::Mark(line, start, zero), 0.0, half_width, Some((start, start)));
        for mark in marks {
            let relation = Relation::Mark(line, mark.node, zero);
            let ends = Some((start, mark.node));
            self.push(Reading::Mark(mark.piece + 1), relation, mark.station.metres(), half_width, ends);
        }
    }

    fn overall(&mut self, chain: &Chain, line: Line, ends: (Node, Node), class: Class<'_>) {
        let overall = chain.overall.measured.as_ref().or(chain.overall.record.as_ref());
        if let Some(overall) = overall {
            let length = overall.value.value;
            self.piece(Reading::Overall, line, ends, length, class.of_length(length));
        }
    }

    /// A length along a line: between the line's own ends it is their distance.
    fn piece(&mut self, reading: Reading, line: Line, ends: (Node, Node), length: Length, half_width: f64) {
        let relation = if line == ends {
            Relation::Distance(ends.0, ends.1)
        } else {
            Relation::Piece(line, ends.0, ends.1)
        };
        self.push(reading, relation, length.metres(), half_width, Some(ends));
    }
}
