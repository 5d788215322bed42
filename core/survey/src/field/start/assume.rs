//! Right angles taken for granted where nothing else says how a shape stands.

use groundrule_plan::Name;

use super::Work;
use super::loci::meet;
use super::meeting::best_meeting;
use crate::field::accuracy::BY_EYE;
use crate::field::figure::{Figure, Node, Of, Relation};
use crate::layout::Reading;

impl Work<'_> {
    /// Takes a right angle for granted at a corner where one side is known and the next has one figure that meets it.
    pub(super) fn assume(&mut self, figures: &mut Vec<Figure>, of_lot: bool) -> bool {
        let corners = self.rings.iter().filter(|ring| ring.is_lot == of_lot).flat_map(|ring| {
            let n = ring.corners.len();
            (0..n).map(move |i| (ring.corners[(i + n - 1) % n], ring.corners[i], ring.corners[(i + 1) % n]))
        });
        let mut found = None;
        for (before, at, after) in corners {
            let (Some(before), Some(at), Some(after)) = (before, at, after) else { continue };
            let (known, open) = match (self.known(before), self.known(after)) {
                (true, false) => (before, after),
                (false, true) => (after, before),
                _ => continue,
            };
            if !self.known(at) || self.start.assumed.contains(&at) {
                continue;
            }
            let figure = self.right_angle(at, known, open);
            let loci = self.loci(open, figures);
            // What has two places already is not made one by an angle nobody measured.
            let two = !best_meeting(&loci).is_empty();
            let square = self.knowing(|known| known.locus(&figure, open));
            let Some(square) = square.filter(|_| !two) else { continue };
            if loci
                .iter()
                .any(|(_, locus)| locus.iter().any(|a| square.iter().any(|b| !meet(*a, *b).is_empty())))
            {
                found = Some((figure, at, known, open));
                break;
            }
        }
        let Some((figure, at, known, open)) = found else { return false };
        figures.push(figure);
        for node in [at, known, open] {
            self.of[node].push(figures.len() - 1);
        }
        self.start.assumed.push(at);
        self.queue.insert(open);
        true
    }

    fn right_angle(&self, at: Node, known: Node, open: Node) -> Figure {
        let name = Name(self.nodes.name(at).to_owned());
        Figure {
            of: Of::Assumption(self.start.assumed.len()),
            reading: Reading::Figure(0),
            relation: Relation::Between(at, known, open),
            value: std::f64::consts::FRAC_PI_2,
            half_width: BY_EYE,
            ends: Some((name.clone(), name)),
            counts: true,
        }
    }
}
