//! Gaps between crowns.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_plants::CrownGap;

fn trees(second: Option<f64>) -> Sketch {
    let spot = |x: f64| Rect::metres(x, 0.0, x, 0.0);
    let mut sketch = Sketch::new()
        .feature("house", "dwelling", Rect::metres(-10.0, -4.0, -4.0, 4.0))
        .feature("ash", "planting/tree", spot(0.0))
        .stating("spread", Length::from_metres(6.0))
        .feature("elm", "planting/tree", spot(12.0));
    if let Some(spread) = second {
        let now = sketch.stating("spread", Length::from_metres(2.0));
        sketch = now.stating("mature_spread", Length::from_metres(spread));
    }
    let both = ["ash", "elm"];
    sketch.subjects(&both).group("others", &both).group("house", &["house"])
}

#[test]
fn half_of_each_crown_comes_off_and_each_pair_is_told_once() {
    let reach = Length::from_metres(20.0);
    let once = "elm: not applicable, each gap is told from the other tree, or none is near";
    assert_eq!(
        trees(Some(8.0)).parameter("reach", reach).ask::<CrownGap>(),
        format!("ash > elm: 5 m; other elm, house_distance 4 m\n{once}")
    );
    assert_eq!(
        trees(None).parameter("reach", reach).ask::<CrownGap>(),
        format!("ash > elm: lacking crown of elm; other elm, house_distance 4 m\n{once}")
    );
}

#[test]
fn a_row_without_a_reach_is_refused() {
    let told = trees(None).ask::<CrownGap>();
    assert!(told.starts_with("refused: parameter `reach` is not given"), "{told}");
}
