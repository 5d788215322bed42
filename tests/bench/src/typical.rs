//! A plan of the size people hand in: one lot and about two hundred things on it, as the text of a plan file.

use std::fmt::Write as _;

/// How many features the plan has.
pub const FEATURES: usize = 200;

/// The text of the plan. Always the same.
pub fn plan() -> String {
    let mut text = String::from(HEAD);
    let mut count = 6;
    // A grid of the lot in cells of 8 ft, each thing in a cell of its own, kinds in turn.
    let mut cells = (0..15).flat_map(|row| (0..14).map(move |column| (column, row)));
    while count < FEATURES {
        let Some((column, row)) = cells.next() else { break };
        let (x, y) = (4 + column * 8, 70 + row * 8);
        let _ = match count % 10 {
            0 => writeln!(
                text,
                "[[feature]]\nid = 'shed-{count}'\nkind = 'shed'\nstatus = 'proposed'\nbox = {{ corner = 'sw', at = [{x}, {y}], size = ['6 ft', '5 ft'] }}\nheight = '8 ft'"
            ),
            1 | 2 => writeln!(
                text,
                "[[feature]]\nid = 'bed-{count}'\nkind = 'bed'\nstatus = 'existing'\noutline = [[{x}, {y}], [{}, {y}], [{}, {}], {{ at = [{x}, {}], through = [{}, {}] }}]",
                x + 6,
                x + 6,
                y + 5,
                y + 5,
                x - 1,
                y + 2
            ),
            3 => writeln!(
                text,
                "[[feature]]\nid = 'walk-{count}'\nkind = 'walk'\nstatus = 'proposed'\nline = [[{x}, {y}], [{}, {}]]\nwidth = '{} in'",
                x + 6,
                y + 4,
                28 + column
            ),
            4 => writeln!(
                text,
                "[[feature]]\nid = 'gate-{count}'\nkind = 'gate'\nstatus = 'existing'\nline = [[{x}, {y}], [{}, {y}]]\nclear_opening = '{} in'",
                x + 3,
                28 + row
            ),
            5 | 6 => writeln!(
                text,
                "[[feature]]\nid = 'shrub-{count}'\nkind = 'shrub'\nstatus = 'existing'\nat = [{x}, {y}]\nmature_spread = '5 ft'"
            ),
            _ => writeln!(
                text,
                "[[feature]]\nid = 'tree-{count}'\nkind = 'tree'\nstatus = 'existing'\nat = {{ from = 'house.nw', right = '{x} ft', up = '{} ft' }}\nby = 'tape'\nspread = '12 ft'",
                y - 60
            ),
        };
        count += 1;
    }
    text
}

const HEAD: &str = "\
[site]
name = 'A typical plan'
units = 'ft'
north = '12 deg clockwise of up'
district = 'TZ-1'
by = 'aerial'

[accuracy]
aerial = '1 ft'
tape = '1/2 in'

[lot]
corners = [[0, 0], [120, 0], [122, 200], [0, 198]]
names = ['sw', 'se', 'ne', 'nw']
sides = { sw-se = { role = 'front', street = 'Alder Row' }, se-ne = { role = 'side' }, ne-nw = { role = 'rear' }, nw-sw = { role = 'side' } }

[[feature]]
id = 'house'
kind = 'dwelling'
status = 'existing'
outline = [[20, 28], [70, 28], [70, 24], [90, 24], [90, 60], [20, 60]]
names = ['sw', 'jog', 'front', 'se', 'ne', 'nw']
eave = '2 ft'

[[feature]]
id = 'garage'
kind = 'garage-attached'
status = 'existing'
box = { along = 'house.se-ne', station = '4 ft', offset = 0, side = 'right', size = ['24 ft', '20 ft'] }
eave = '1 ft'

[[feature]]
id = 'drive'
kind = 'drive'
status = 'existing'
outline = [[92, 0], [108, 0], [108, 28], [92, 28]]

[[feature]]
id = 'easement'
kind = 'utility-easement'
status = 'existing'
outline = [[0, 188], [122, 190], [122, 200], [0, 198]]

[[feature]]
id = 'side-fence'
kind = 'fence'
status = 'existing'
line = [[1, 60], [1, 196], [120, 198]]
height = '6 ft'

[[feature]]
id = 'heat-pump'
kind = 'heat-pump'
status = 'existing'
box = { corner = 'sw', at = [14, 40], size = ['3 ft', '3 ft'] }

";
