//! The yards of neighbors on a street, each lot 20 m wide.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::NeighborYards;

/// Lots `a`, `b`, ... from left to right; a house on each that has a depth, so far from the street.
fn street(depths: &[Option<f64>]) -> Sketch {
    let names = ["a", "b", "c", "d"];
    let mut sketch = Sketch::new();
    for ((at, depth), name) in depths.iter().enumerate().zip(names) {
        let left = 20.0 * at as f64;
        sketch = sketch.lot(name, Rect::metres(left, 0.0, left + 20.0, 60.0));
        if let Some(depth) = depth {
            let house = Rect::metres(left + 3.0, *depth, left + 15.0, depth + 10.0);
            sketch = sketch.feature(&format!("{name}-house"), "dwelling", house).on(name);
        }
    }
    sketch.subjects(&["a-house"])
}

#[track_caller]
fn check(sketch: Sketch, lines: &[&str], neighbors: &[&str], expected: &str) {
    assert_eq!(sketch.group("lines", lines).group("neighbors", neighbors).ask::<NeighborYards>(), expected);
}

#[test]
fn the_mean_of_the_neighbors_with_a_vacant_lot_between_them() {
    let sketch = street(&[Some(9.0), Some(12.0), None, Some(10.0)]);
    let lines = ["a.s", "b.s", "c.s", "d.s"];
    let neighbors = ["b-house", "d-house"];
    check(
        sketch.clone(),
        &lines,
        &neighbors,
        "a-house > a.s: 9 m; line a.s, neighbors_mean 11 m, neighbors_counted 2",
    );
    check(
        sketch.parameter("vacant", Length::from_metres(8.0)),
        &lines,
        &neighbors,
        "a-house > a.s: 9 m; line a.s, neighbors_mean 10 m, neighbors_counted 3",
    );
}

#[test]
fn what_is_out_of_the_ordinary_counts_as_something_else() {
    let sketch = street(&[Some(9.0), Some(17.0), Some(4.0), Some(10.0)])
        .parameter("most", Length::from_metres(15.0))
        .parameter("least", Length::from_metres(6.0));
    let lines = ["a.s", "b.s", "c.s", "d.s"];
    let neighbors = ["b-house", "c-house", "d-house"];
    check(
        sketch.clone().parameter("instead", Length::from_metres(7.0)),
        &lines,
        &neighbors,
        "a-house > a.s: 9 m; line a.s, neighbors_mean 8 m, neighbors_counted 3",
    );
    check(
        sketch,
        &lines,
        &neighbors,
        "a-house > a.s: 9 m; line a.s, neighbors_mean 10 m, neighbors_counted 1",
    );
}

#[test]
fn without_neighbors_it_is_lacking() {
    check(street(&[Some(9.0)]), &["a.s"], &[], "a-house > a.s: lacking yards that the neighbors of a.s keep");
}
