//! Figures of stated facts.

use std::f64::consts::FRAC_PI_2;

use groundrule_plan::Fact;

use super::Collector;
use crate::field::accuracy::{Class, of_fact};
use crate::field::figure::{Node, Relation};
use crate::layout::Reading;

impl Collector<'_> {
    pub(super) fn fact(&mut self, fact: &Fact, class: Class<'_>) {
        let half_width = of_fact(class, fact);
        match fact {
            Fact::Square(owner) => {
                let ring = self.rings.ring(&owner.value.0).unwrap_or_default();
                let ring: Vec<Node> = ring.into_iter().map(|name| self.nodes.of(name)).collect();
                let n = ring.len();
                for i in 0..n {
                    self.right_angle(i, ring[i], (ring[(i + n - 1) % n], ring[(i + 1) % n]), half_width);
                    // The first corner follows from the others and only helps to find starting places.
                    if let (0, Some(figure)) = (i, self.figures.last_mut()) {
                        figure.counts = false;
                    }
                }
            }
            Fact::RightAngle { at, arms } => {
                let corner = self.node(at);
                let arms = match arms {
                    Some((a, b)) => Some((self.node(a), self.node(b))),
                    None => self.rings.neighbours(at).map(|(a, b)| (self.nodes.of(a), self.nodes.of(b))),
                };
                if let Some(arms) = arms {
                    self.right_angle(0, corner, arms, half_width);
                }
            }
            Fact::Parallel(a, b) => {
                let (a, b) = (self.line(a), self.line(b));
                self.push(Reading::Figure(0), Relation::Parallel(a, b), 0.0, half_width, None);
            }
            Fact::Equal(a, b) => {
                let (a, b) = (self.line(a), self.line(b));
                self.push(Reading::Figure(0), Relation::Equal(a, b), 0.0, half_width, None);
            }
            Fact::Straight(points) => {
                let nodes: Vec<Node> = points.iter().map(|point| self.node(point)).collect();
                let (Some(first), Some(last)) = (nodes.first(), nodes.last()) else { return };
                for (node, i) in nodes.iter().zip(0..).take(nodes.len() - 1).skip(1) {
                    self.push(
                        Reading::Figure(i),
                        Relation::Offset((*first, *last), *node),
                        0.0,
                        half_width,
                        None,
                    );
                }
            }
        }
    }

    fn right_angle(&mut self, i: usize, at: Node, (a, b): (Node, Node), half_width: f64) {
        let reading = Reading::Figure(u32::try_from(i).unwrap_or(u32::MAX));
        self.push(reading, Relation::Between(at, a, b), FRAC_PI_2, half_width, Some((at, at)));
    }
}
