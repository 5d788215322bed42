//! Plans of measurements with random changes: read or refused, and resolved or refused, without a panic.

use std::sync::LazyLock;

use groundrule_plan::{Source, read_plan};
use groundrule_survey::resolve;
use proptest::prelude::*;

use crate::support::HEAD;

/// Plans with every kind of measurement, in pieces that stand by themselves.
static STOCK: LazyLock<Vec<Vec<&'static str>>> = LazyLock::new(|| {
    vec![
        vec![
            "[lot]\ncorners = ['lot.sw', 'lot.se', 'lot.ne', 'lot.nw']\n",
            "[[chain]]\nread = ['a', 10, 'lot.sw', 20, 'lot.se']\nalong = 'a-b'\n",
            "[[chain]]\nread = ['lot.se', 30, 'lot.ne']\n",
            "[[chain]]\nread = ['lot.ne', 20, 'lot.nw']\noverall = '20 m (R)'\n",
            "[[chain]]\nread = ['lot.nw', 30, 'lot.sw']\n",
            "[[distance]]\nfrom = 'lot.sw'\nto = 'lot.ne'\nread = 36\n",
            "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\noutline = ['house.sw', 'house.se', 'house.ne', 'house.nw']\n",
            "[[offsets]]\nalong = 'lot.sw-se'\npoints = { house.sw = [5, '6 m left'], house.se = [15, '6 m left'] }\n",
            "[[chain]]\nread = ['house.se', 8, 'house.ne']\n",
            "[[fact]]\nsquare = 'house'\n",
            "[[tie]]\npoint = 'oak'\nfrom = { house.ne = 7, house.nw = 9 }\nside = 'up'\n",
            "[[tie]]\npoint = 'elm'\nfrom = { oak = 7, house.nw = 9, lot.nw = 8 }\n",
            "[[fact]]\nparallel = ['house.sw-se', 'lot.sw-se']\n",
            "[[fact]]\nequal = ['lot.sw-ne', 'lot.se-nw']\nby = { plus_minus = '2 cm', of_each = 'length' }\n",
        ],
        vec![
            "[[traverse]]\nfrom = 'a'\ncalls = [{ to = 'p', bearing = 'N 45 E', distance = 10 }, { to = 'q', curve = 'R=10 m D=90', turn = 'left' }, { to = 'a', bearing = 200, distance = 14 }]\n",
            "[[angle]]\nat = 'p'\nfrom = 'a'\nto = 'q'\nturn = '100 deg clockwise'\n",
            "[[angle]]\nat = 'q'\nfrom = 'a'\nto = 'p'\nbetween = '50 deg'\n",
            "[[fact]]\nstraight = ['a', 'r', 'b']\n",
            "[[chain]]\nrunning = ['a', 2, 'r', 5, 's', 9, 't']\nalong = 'a-b'\nby = 'p02'\n",
            "[[chain]]\nread = ['d', 2, 'u', 5, 's']\nabreast = true\n",
            "[[fact]]\nright_angle = ['a', 'r', 'u']\n",
            "[[level]]\npoint = 'a'\nheight = '30 m'\n",
            "[[level]]\nfrom = 'a'\nto = 'p'\nslope = '2 %'\n",
            "[[level_run]]\nsights = [{ at = 'a', back = '1 m' }, { at = 'p', fore = '2 m', back = '1 m' }, { at = 'q', fore = '2 m' }]\n",
            "[points.u]\nnear = [1, 2]\n",
            "[points.v]\nfrom = 'u'\nright = 3\n",
            "[[tie]]\npoint = 'w'\nfrom = { v = 3, u = 3 }\nnear = [2, 2]\n",
        ],
        vec![
            "[lot]\ncorners = [[0, 0], [30, 0], [30, 40], [0, 40]]\nnames = ['sw', 'se', 'ne', 'nw']\n",
            "[ground]\ndatum = 'assumed'\nby = 't02'\nnot_ground = ['bm']\nlevels = { oak = ['EG 30', 'FG 31'], lot.sw = 29, house.ne = 'FG 30.5' }\n",
            "[points.oak]\nat = [5, 9]\n",
            "[[level]]\npoint = 'bm'\nheight = '30 m'\n",
            "[[level]]\nfrom = 'bm'\nto = 'a'\nfall = 3\n",
            "[[level]]\nfrom = 'a'\nto = 'lot.ne'\nfall = 1\n",
            "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nbox = { corner = 'sw', at = [5, 15], size = [9, 7] }\nlevels = ['EG 30', 'FG 31', '-', 30.5]\n",
            "[[feature]]\nid = 'patio'\nkind = 'patio'\nstatus = 'proposed'\noutline = [[5, 5], { at = [9, 5], radius = '3 left' }, [9, 9], [5, 9]]\nlevels = [30, 30.1, '-', 30.3]\n",
            "[[feature]]\nid = 'wall'\nkind = 'wall'\nstatus = 'proposed'\nline = [[20, 5], [25, 5], [25, 9], [22, 9]]\nwidth = 0.3\nstations = [0, 4, 11]\ntop_levels = ['TW 32', '-', 32]\nbottom_levels = ['BW 30', 30, 31]\nhigh_side = 'left'\n",
            "[[feature]]\nid = 'c30'\nkind = 'contour'\nline = [[1, 1], { at = [5, 2], radius = '5 right' }, [9, 1]]\nlevel = 30\n",
            "[[feature]]\nid = 'c31'\nkind = 'contour'\noutline = [[1, 20], [5, 22], [9, 29]]\nlevel = 'EG 31'\n",
            "[[feature]]\nid = 's'\nkind = 'spot-level'\nat = [2, 2]\nlevel = 29.5\n",
            "[[feature]]\nid = 'in'\nkind = 'inlet'\nstatus = 'existing'\noutline = [[12, 2], [13, 2], [13, 3]]\nrim = 29\n",
            "[[feature]]\nid = 'swale'\nkind = 'swale'\nstatus = 'proposed'\nline = [[28, 40], [28, 0]]\nstations = [3, 30]\nlevels = ['FL 30', 29]\n",
        ],
    ]
});

/// A change to one piece of a plan.
#[derive(Clone, Debug)]
enum Change {
    /// Left out.
    Drop(prop::sample::Index),
    /// Written twice.
    Twice(prop::sample::Index),
    /// One of its figures is another.
    Figure(prop::sample::Index, prop::sample::Index, &'static str),
    /// One of its points is another.
    Point(prop::sample::Index, prop::sample::Index, &'static str),
}

fn change() -> impl Strategy<Value = Change> {
    let index = any::<prop::sample::Index>;
    let figure =
        prop::sample::select(vec!["0", "1e8", "1e50", "1e-50", "3", "5.5", "100", "0.001", "-3", "20"]);
    let point = prop::sample::select(vec![
        "a", "b", "d", "oak", "lot.sw", "lot.ne", "house.nw", "house.sw", "p", "q", "u", "v",
    ]);
    prop_oneof![
        index().prop_map(Change::Drop),
        index().prop_map(Change::Twice),
        (index(), index(), figure).prop_map(|(piece, at, to)| Change::Figure(piece, at, to)),
        (index(), index(), point).prop_map(|(piece, at, to)| Change::Point(piece, at, to)),
    ]
}

/// The places of parts of a text that are all of some characters and begin with one of others.
fn parts(text: &str, begins: fn(char) -> bool, goes_on: fn(char) -> bool) -> Vec<(usize, usize)> {
    let (mut found, mut begun) = (Vec::new(), None);
    let mut before = ' ';
    for (i, c) in text.char_indices().chain([(text.len(), '\n')]) {
        match begun {
            Some(from) if !goes_on(c) => {
                found.push((from, i));
                begun = None;
            }
            None if begins(c) && !before.is_alphanumeric() => begun = Some(i),
            _ => {}
        }
        before = c;
    }
    found
}

fn apply(pieces: &mut Vec<String>, change: &Change) {
    if pieces.is_empty() {
        return;
    }
    match change {
        Change::Drop(which) => drop(pieces.remove(which.index(pieces.len()))),
        Change::Twice(which) => pieces.push(pieces[which.index(pieces.len())].clone()),
        Change::Figure(which, at, to) | Change::Point(which, at, to) => {
            let which = which.index(pieces.len());
            let found = if matches!(change, Change::Figure(..)) {
                parts(&pieces[which], |c| c.is_ascii_digit(), |c| c.is_ascii_digit() || c == '.')
            } else {
                let named = parts(&pieces[which], |c| c == '\'', |c| c != '\'');
                named.into_iter().map(|(from, to)| (from + 1, to)).collect()
            };
            if !found.is_empty() {
                let (from, until) = found[at.index(found.len())];
                pieces[which].replace_range(from..until, to);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    #[test]
    fn changed_plans_resolve_or_are_refused(
        which in any::<prop::sample::Index>(),
        changes in prop::collection::vec(change(), 0..6),
    ) {
        let mut pieces: Vec<String> = which.get(&STOCK).iter().map(|piece| (*piece).to_owned()).collect();
        for change in &changes {
            apply(&mut pieces, change);
        }
        let text = format!("{HEAD}{}", pieces.concat());
        let source = Source { name: "test.toml".to_owned(), text: text.as_str().into() };
        let outcome = read_plan(&source).and_then(|plan| resolve(&plan));
        match outcome {
            Ok((layout, remarks)) => {
                for (name, point) in &layout.named {
                    prop_assert!(point.at.x.metres().is_finite() && point.at.y.metres().is_finite(), "{name}\n{text}");
                    let terms = point.error.terms();
                    prop_assert!(terms.iter().all(|t| t.x.metres().is_finite() && t.y.metres().is_finite()), "{name}\n{text}");
                }
                let ground = &layout.ground;
                for level in &ground.levels {
                    prop_assert!(level.height.metres().is_finite() && level.at.at.x.metres().is_finite(), "{level:?}\n{text}");
                }
                for line in &ground.lines {
                    let held = |level: &u32| (*level as usize) < ground.levels.len();
                    prop_assert!(line.levels.len() > 1 && line.levels.iter().all(held), "{line:?}\n{text}");
                }
                for remark in &remarks {
                    prop_assert!(remark.span.end as usize <= text.len(), "{remark:?}");
                    prop_assert!(!remark.message.contains("NaN"), "{}", remark.message);
                }
            }
            Err(faults) => prop_assert!(!faults.faults.is_empty(), "{text}"),
        }
    }
}
